using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Testing.Builders;

/// <summary>
/// Sound facts of the trade with every member optional. The figures are common practice, no source.
/// </summary>
public static class Facts
{
    public const string Site = "site-1";
    public const string Duct = "duct-1";
    public const string Cable = "cable-1";
    public const string Box = "box-1";
    public const string Circuit = "circuit-1";

    public static SiteOpened SiteOpened(string siteId = Site, string name = "Garden", DuctCall[]? calls = null) =>
        new() { SiteId = siteId, Name = name, DuctCalls = calls };

    public static DuctLaid DuctLaid(
        string ductId = Duct,
        DuctService service = DuctService.LightingExtraLowVoltage,
        DuctColour colour = DuctColour.Black,
        DuctWall wall = DuctWall.TwinWall,
        double bore = 50,
        double length = 20,
        double? depth = null,
        double? bends = null,
        string siteId = Site) => new()
        {
            SiteId = siteId,
            DuctId = ductId,
            Service = service,
            Colour = colour,
            Wall = wall,
            BoreMillimetres = bore,
            LengthMetres = length,
            DepthMillimetres = depth,
            BendsDegrees = bends,
        };

    public static DuctLabelled DuctLabelled(
        string ductId = Duct, string label = "D1", RunEnd? end = null, string siteId = Site) =>
        new() { SiteId = siteId, DuctId = ductId, Label = label, End = end };

    public static DuctPlugged DuctPlugged(RunEnd end, string ductId = Duct, string siteId = Site) =>
        new() { SiteId = siteId, DuctId = ductId, End = end };

    public static StringLeft StringLeft(
        string ductId = Duct,
        StringMethod method = StringMethod.Pulled,
        double? length = null,
        string siteId = Site) =>
        new() { SiteId = siteId, DuctId = ductId, Method = method, LengthMetres = length };

    public static CoreAssignment Core(string core, string? circuitId = Circuit, CoreUse? use = null) => new()
    {
        Core = core,
        Use = use ?? (circuitId is null ? CoreUse.Spare : CoreUse.Circuit),
        CircuitId = circuitId,
    };

    public static CablePulled CablePulled(
        string cableId = Cable,
        string[]? ducts = null,
        double length = 20,
        double area = 1.5,
        ConductorClass conductorClass = ConductorClass.Class5,
        CoreAssignment[]? cores = null,
        double? diameter = null,
        string siteId = Site) => new()
        {
            SiteId = siteId,
            CableId = cableId,
            DuctIds = ducts ?? [Duct],
            LengthMetres = length,
            AreaSquareMillimetres = area,
            ConductorClass = conductorClass,
            Cores = cores ?? [Core("brown"), Core("blue")],
            OutsideDiameterMillimetres = diameter,
        };

    public static CableLabelled CableLabelled(
        string cableId = Cable, string label = "C1", RunEnd? end = null, string siteId = Site) =>
        new() { SiteId = siteId, CableId = cableId, Label = label, End = end };

    public static CoreSleeved CoreSleeved(
        string core, CorePolarity polarity, RunEnd end = RunEnd.Near, string cableId = Cable, string siteId = Site) =>
        new() { SiteId = siteId, CableId = cableId, Core = core, Polarity = polarity, End = end };

    public static BoxSealed BoxSealed(
        string boxId = Box,
        BoxLie lie = BoxLie.FlatInGround,
        BoxEntry entry = BoxEntry.Glands,
        bool strainRelief = true,
        bool gelFilled = true,
        bool breathing = false,
        string? label = null,
        string siteId = Site) => new()
        {
            SiteId = siteId,
            BoxId = boxId,
            Lie = lie,
            Entry = entry,
            StrainRelief = strainRelief,
            GelFilled = gelFilled,
            Breathing = breathing,
            Label = label,
        };

    public static HeldConductor Held(string core, string cableId = Cable) => new() { CableId = cableId, Core = core };

    public static HeldConductor Lead(string fittingId, string core = "red") => new() { FittingId = fittingId, Core = core };

    public static Connector Connector(params HeldConductor[] conductors) => new() { Conductors = conductors };

    public static JointMade JointMade(
        string boxId = Box,
        string jointId = "joint-1",
        string circuitId = Circuit,
        JointArrangement arrangement = JointArrangement.Series,
        Connector[]? connectors = null,
        bool underFitting = false,
        string siteId = Site) => new()
        {
            SiteId = siteId,
            BoxId = boxId,
            JointId = jointId,
            CircuitId = circuitId,
            Arrangement = arrangement,
            Connectors = connectors ?? [Connector(Held("brown"), Lead("F1"))],
            UnderFitting = underFitting,
        };

    public static FactCorrected Withdrawn(RecordedFact target, string reason = "It was not so.") =>
        Corrected(target, CorrectionAction.Withdraw, null, reason);

    public static FactCorrected Replaced(RecordedFact target, IFact by, string reason = "It was otherwise.") =>
        Corrected(target, CorrectionAction.Replace, Json(by), reason);

    public static FactCorrected Corrected(
        RecordedFact target, CorrectionAction action, JsonElement? replacement, string reason = "It was otherwise.") => new()
        {
            SiteId = target.Data.SiteId,
            TargetSource = target.Of.Source,
            TargetId = target.Of.Id,
            TargetType = FactTypes.NameOf(target.Data.GetType()),
            Action = action,
            Reason = reason,
            Replacement = replacement,
        };

    public static ThingsJoined Joined(ThingKind kind, string kept, string same, string siteId = Site) =>
        new() { SiteId = siteId, Kind = kind, KeptId = kept, SameId = same };

    public static PhotoTaken PhotoTaken(
        ThingKind kind = ThingKind.Box,
        string thingId = Box,
        string? sha256 = null,
        string mediaType = "image/png",
        int sizeBytes = 1000,
        string? caption = null,
        string siteId = Site) => new()
        {
            SiteId = siteId,
            Kind = kind,
            ThingId = thingId,
            Sha256 = sha256 ?? new string('0', 64),
            MediaType = mediaType,
            SizeBytes = sizeBytes,
            Caption = caption,
        };

    /// <summary>The data as it travels in a correction.</summary>
    public static JsonElement Json(IFact data) => JsonSerializer.SerializeToElement(
        data,
        data.GetType(),
        WireJson.Strict);
}
