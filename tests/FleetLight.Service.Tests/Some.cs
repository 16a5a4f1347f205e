using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Service.Tests;

/// <summary>
/// Facts of an invented garden: one constant-current circuit of two fittings, with the duct, cable and box that serve it.
/// They fit one another, so a test says only what it is about.
/// </summary>
internal static class Some
{
    public const string Site = "site-1";
    public const string Circuit = "circuit-1";
    public const string Duct = "duct-1";
    public const string Cable = "cable-1";
    public const string Box = "box-1";

    public static SiteOpened SiteOpened(string site = Site, string name = "Walled garden", DuctCall[]? calls = null) => new()
    {
        SiteId = site,
        Name = name,
        Place = "By the lower gate",
        Position = Point(-0.12, 51.5),
        DuctCalls = calls,
    };

    public static DuctLaid DuctLaid(string duct = Duct, string site = Site, DuctColour colour = DuctColour.Orange, double length = 24) => new()
    {
        SiteId = site,
        DuctId = duct,
        Service = DuctService.LightingExtraLowVoltage,
        Colour = colour,
        Wall = DuctWall.TwinWall,
        BoreMillimetres = 50,
        LengthMetres = length,
        DepthMillimetres = 350,
        Route = new GeoLine { Type = "LineString", Coordinates = [[-0.12, 51.5], [-0.1201, 51.5002]] },
    };

    public static DuctPlugged DuctPlugged(RunEnd end, string duct = Duct) => new() { SiteId = Site, DuctId = duct, End = end, With = "expanding plug" };

    public static DuctLabelled DuctLabelled(string duct = Duct, string label = "L1") => new() { SiteId = Site, DuctId = duct, Label = label };

    public static StringLeft StringLeft(string duct = Duct) => new() { SiteId = Site, DuctId = duct, Method = StringMethod.Pulled };

    public static CablePulled CablePulled(
        string cable = Cable, string[]? ducts = null, string circuit = Circuit, double length = 25, string site = Site) => new()
        {
            SiteId = site,
            CableId = cable,
            DuctIds = ducts ?? [Duct],
            LengthMetres = length,
            AreaSquareMillimetres = 0.75,
            ConductorClass = ConductorClass.Class5,
            Cores =
        [
            new CoreAssignment { Core = "brown", Use = CoreUse.Circuit, CircuitId = circuit },
            new CoreAssignment { Core = "blue", Use = CoreUse.Circuit, CircuitId = circuit },
            new CoreAssignment { Core = "black", Use = CoreUse.Spare },
        ],
            OutsideDiameterMillimetres = 7,
        };

    public static CableLabelled CableLabelled(string cable = Cable, string label = "C1") => new() { SiteId = Site, CableId = cable, Label = label };

    public static BoxSealed BoxSealed(string box = Box, bool gelFilled = true, string site = Site) => new()
    {
        SiteId = site,
        BoxId = box,
        Lie = BoxLie.FlatInGround,
        Entry = BoxEntry.Glands,
        StrainRelief = true,
        GelFilled = gelFilled,
        Breathing = false,
        Label = "B1",
        Position = Point(-0.1201, 51.5002),
    };

    public static JointMade JointMade(string box = Box, string joint = "joint-1", string circuit = Circuit, string cable = Cable) => new()
    {
        SiteId = Site,
        BoxId = box,
        JointId = joint,
        CircuitId = circuit,
        Arrangement = JointArrangement.Series,
        Connectors =
        [
            new Connector
            {
                Conductors =
                [
                    new HeldConductor { CableId = cable, Core = "brown" },
                    new HeldConductor { FittingId = "fitting-1", Core = "red" },
                ],
            },
        ],
    };

    /// <summary>350 mA through fittings of these rated powers, W; the driver may give up to 60 V.</summary>
    public static CircuitDesigned CircuitDesigned(
        string circuit = Circuit, string site = Site, string? cable = Cable, double[]? watts = null, double mostVolts = 60) => new()
        {
            SiteId = site,
            CircuitId = circuit,
            Name = "Steps",
            Drive = DriveKind.ConstantCurrent,
            Driver = new DriverDesign
            {
                RatedMilliamps = 350,
                LeastVolts = 3,
                MostVolts = mostVolts,
                MostWatts = 30,
                OpenCircuitVolts = 70,
                TolerancePercent = 5,
            },
            Fittings = [.. (watts ?? [1.6, 1.6]).Select((each, index) => new FittingDesign { FittingId = $"fitting-{index + 1}", RatedWatts = each })],
            Runs =
        [
            new RunDesign
            {
                RunId = "run-1",
                From = "driver",
                To = "fitting-1",
                LengthMetres = 25,
                AreaSquareMillimetres = 0.75,
                ConductorClass = ConductorClass.Class5,
                CableId = cable,
            },
        ],
        };

    public static FittingFixed FittingFixed(int number = 1, string circuit = Circuit, double? watts = null, string site = Site) => new()
    {
        SiteId = site,
        CircuitId = circuit,
        FittingId = $"fitting-{number}",
        RatedWatts = watts,
        Position = Point(-0.12 - number * 0.0001, 51.5),
    };

    public static DriverConnected DriverConnected(string circuit = Circuit) => new()
    {
        SiteId = Site,
        CircuitId = circuit,
        At = "Shed",
        Position = Point(-0.1199, 51.4999),
    };

    public static CircuitEnergised CircuitEnergised(string circuit = Circuit) => new() { SiteId = Site, CircuitId = circuit };

    public static CircuitHandedOver CircuitHandedOver(string circuit = Circuit) => new() { SiteId = Site, CircuitId = circuit };

    public static FaultReported FaultReported(string fault = "fault-1", string circuit = Circuit) =>
        new() { SiteId = Site, CircuitId = circuit, FaultId = fault, What = "Two steps stay dark." };

    public static RepairMade RepairMade(string fault = "fault-1", string circuit = Circuit) =>
        new() { SiteId = Site, CircuitId = circuit, What = "Joint remade.", FaultIds = [fault] };

    /// <summary>A reading at the driver, V.</summary>
    public static ReadingTaken Reading(double volts = 9.3, string circuit = Circuit, string site = Site) => new()
    {
        SiteId = site,
        CircuitId = circuit,
        Place = ReadingPlaceKind.Driver,
        Quantity = ReadingQuantity.VoltsDc,
        Value = volts,
    };

    public static GeoPoint Point(double longitude, double latitude) => new() { Type = "Point", Coordinates = [longitude, latitude] };
}
