using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Testing.Builders;

/// <summary>Sound facts of circuits with every member optional. The figures are common practice, no source.</summary>
public static class CircuitFacts
{
    public static DriverDesign Driver(
        double? milliamps = 350,
        double? volts = null,
        double? least = null,
        double? most = null,
        double? watts = null,
        double? open = null,
        double? tolerance = null) => new()
        {
            RatedMilliamps = milliamps,
            RatedVolts = volts,
            LeastVolts = least,
            MostVolts = most,
            MostWatts = watts,
            OpenCircuitVolts = open,
            TolerancePercent = tolerance,
        };

    public static FittingDesign Fitting(string id, double watts = 1.6, double? tolerance = null, double? least = null) =>
        new() { FittingId = id, RatedWatts = watts, TolerancePercent = tolerance, LeastVolts = least };

    public static RunDesign Run(
        string id, string from, string to, double length = 10, double area = 1.5, string? cableId = null, int? loop = null) =>
        new()
        {
            RunId = id,
            From = from,
            To = to,
            LengthMetres = length,
            AreaSquareMillimetres = area,
            ConductorClass = ConductorClass.Class5,
            CableId = cableId,
            ConductorsInLoop = loop,
        };

    /// <summary>
    /// Two fittings of 1.6 W in series on 350 mA, one cable from the driver to the first fitting, one on to the second.
    /// </summary>
    public static CircuitDesigned Designed(
        string circuitId = Facts.Circuit,
        DriveKind drive = DriveKind.ConstantCurrent,
        DriverDesign? driver = null,
        FittingDesign[]? fittings = null,
        RunDesign[]? runs = null,
        bool mainsSide = false,
        string name = "Path lights",
        string siteId = Facts.Site) => new()
        {
            SiteId = siteId,
            CircuitId = circuitId,
            Name = name,
            Drive = drive,
            Driver = driver ?? (drive == DriveKind.ConstantCurrent ? Driver() : Driver(milliamps: null, volts: 24)),
            Fittings = fittings ?? [Fitting("F1"), Fitting("F2")],
            Runs = runs ?? [Run("R1", "driver", "F1", cableId: Facts.Cable), Run("R2", "F1", "F2", cableId: "cable-2")],
            MainsSide = mainsSide,
        };

    public static FittingFixed Fixed(
        string fittingId, double? watts = null, string circuitId = Facts.Circuit, string siteId = Facts.Site) =>
        new() { SiteId = siteId, CircuitId = circuitId, FittingId = fittingId, RatedWatts = watts };

    public static DriverConnected Connected(
        DriverDesign? driver = null, string circuitId = Facts.Circuit, string siteId = Facts.Site) =>
        new() { SiteId = siteId, CircuitId = circuitId, Driver = driver };

    public static CircuitEnergised Energised(
        string[]? unlit = null, string circuitId = Facts.Circuit, string siteId = Facts.Site) =>
        new() { SiteId = siteId, CircuitId = circuitId, UnlitFittingIds = unlit };

    public static CircuitHandedOver HandedOver(string circuitId = Facts.Circuit, string siteId = Facts.Site) =>
        new() { SiteId = siteId, CircuitId = circuitId };

    public static FaultReported Fault(
        string faultId = "fault-1", string what = "It flickers.", string circuitId = Facts.Circuit, string siteId = Facts.Site) =>
        new() { SiteId = siteId, CircuitId = circuitId, FaultId = faultId, What = what };

    public static RepairMade Repair(
        string[]? faults = null, string what = "Joint remade.", string circuitId = Facts.Circuit, string siteId = Facts.Site) =>
        new() { SiteId = siteId, CircuitId = circuitId, What = what, FaultIds = faults };

    public static ReadingTaken Reading(
        double value,
        ReadingQuantity quantity = ReadingQuantity.VoltsDc,
        ReadingPlaceKind place = ReadingPlaceKind.Driver,
        string? placeId = null,
        MeterAccuracy? meter = null,
        string circuitId = Facts.Circuit,
        string siteId = Facts.Site) => new()
        {
            SiteId = siteId,
            CircuitId = circuitId,
            Place = place,
            PlaceId = placeId,
            Quantity = quantity,
            Value = value,
            Meter = meter,
        };

    public static TestMade Insulation(
        double megohms,
        double nominal = 230,
        double? testVolts = 500,
        bool mainsSide = true,
        string circuitId = Facts.Circuit,
        string siteId = Facts.Site) => new()
        {
            SiteId = siteId,
            CircuitId = circuitId,
            Test = TestKind.InsulationResistance,
            MainsSide = mainsSide,
            NominalVolts = nominal,
            TestVolts = testVolts,
            Megohms = megohms,
        };

    public static TestMade Polarity(bool right = true, bool mainsSide = true, string circuitId = Facts.Circuit) => new()
    {
        SiteId = Facts.Site,
        CircuitId = circuitId,
        Test = TestKind.Polarity,
        MainsSide = mainsSide,
        PolarityRight = right,
    };

    public static TestMade Continuity(double ohms = 0.4, bool mainsSide = true, string circuitId = Facts.Circuit) => new()
    {
        SiteId = Facts.Site,
        CircuitId = circuitId,
        Test = TestKind.Continuity,
        MainsSide = mainsSide,
        Ohms = ohms,
    };

    public static TestMade TripTime(
        double milliseconds,
        double? multiple = 1,
        ResidualCurrentDeviceType? type = null,
        string circuitId = Facts.Circuit) => new()
        {
            SiteId = Facts.Site,
            CircuitId = circuitId,
            Test = TestKind.ResidualCurrentDevice,
            MainsSide = true,
            RatedResidualMilliamps = 30,
            CurrentMultiple = multiple,
            TripMilliseconds = milliseconds,
            DeviceType = type,
        };
}
