using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.PageParts.Wording;

namespace FleetLight.PageParts.History;

/// <summary>What a recorded fact says, in a plain line.</summary>
public static class FactSummary
{
    /// <summary>The line of a fact.</summary>
    /// <param name="type">Its type.</param>
    /// <param name="data">Its data.</param>
    public static string Of(string type, JsonElement data)
    {
        ArgumentNullException.ThrowIfNull(type);
        if (FactTypes.Find(type) is not { } kind) return TypeSaid(type);
        try
        {
            return data.Deserialize(kind, WireJson.Lenient) is IFact fact ? Of(fact) : TypeSaid(type);
        }
        catch (JsonException)
        {
            return TypeSaid(type);
        }
    }

    /// <summary>The line of a fact.</summary>
    public static string Of(IFact fact) => fact switch
    {
        SiteOpened opened => $"Work begun on {opened.Name}",
        DuctLaid laid => $"Duct {laid.DuctId} laid: {Metres(laid.LengthMetres)}, bore {Figures.Plain(laid.BoreMillimetres)} mm"
            + (laid.DepthMillimetres is { } depth ? $", {Figures.Plain(depth)} mm deep" : ""),
        DuctLabelled labelled => $"Duct {labelled.DuctId} labelled “{labelled.Label}”{At(labelled.End)}",
        DuctPlugged plugged => $"Duct {plugged.DuctId} plugged{At(plugged.End)}",
        StringLeft left => $"String left in duct {left.DuctId}: {PlainWords.Of(left.Method).ToLowerInvariant()}",
        CablePulled pulled => $"Cable {pulled.CableId} pulled: {Metres(pulled.LengthMetres)} of {pulled.Cores.Length} × {Figures.Plain(pulled.AreaSquareMillimetres)} mm²"
            + Through(pulled.DuctIds),
        CableLabelled labelled => $"Cable {labelled.CableId} labelled “{labelled.Label}”{At(labelled.End)}",
        CoreSleeved sleeved => $"Core {sleeved.Core} of cable {sleeved.CableId} sleeved {PlainWords.SignOf(sleeved.Polarity)}{At(sleeved.End)}",
        BoxSealed closed => $"Box {closed.Label ?? closed.BoxId} closed{(closed.GelFilled ? ", filled with gel" : "")}",
        JointMade joint => $"Joint made in box {joint.BoxId}, {PlainWords.Of(joint.Arrangement).ToLowerInvariant()}",
        CircuitDesigned design => $"Design of {design.Name}: {Count(design.Fittings.Length, "fitting")}, {Count(design.Runs.Length, "run")}",
        FittingFixed done => $"Fitting {done.FittingId} fixed{(done.RatedWatts is { } watts ? $", {Figures.Plain(watts)} W on its plate" : "")}",
        DriverConnected => "Driver connected",
        CircuitEnergised { UnlitFittingIds: { Length: > 0 } dark } => $"Energised; dark: {string.Join(", ", dark)}",
        CircuitEnergised => "Energised",
        CircuitHandedOver over => $"Handed over{(over.Note is { } note ? $": {note}" : "")}",
        FaultReported fault => $"Fault reported: {fault.What}",
        RepairMade repair => $"Repair made: {repair.What}",
        ReadingTaken reading => $"Read {Figures.Of(reading.Value, reading.Quantity)} {Place(reading.Place, reading.PlaceId)}",
        TestMade test => $"Test made: {PlainWords.Of(test.Test).ToLowerInvariant()}{(test.MainsSide ? ", mains side" : "")}"
            + (test.Megohms is { } megohms ? $", {Figures.Of(megohms, Contracts.Calculations.MeasuredAs.MegohmsInsulation)}" : ""),
        FactCorrected { Action: CorrectionAction.Withdraw } correction => $"Withdrawn: {TypeSaid(correction.TargetType).ToLowerInvariant()}. {correction.Reason}",
        FactCorrected correction => $"Replaced: {TypeSaid(correction.TargetType).ToLowerInvariant()}. {correction.Reason}",
        ReferencePointRecorded point => $"Reference point recorded: {point.Name}",
        PlaceMeasured place => $"Place of {PlainWords.Of(place.Kind).ToLowerInvariant()} {place.FittingId ?? place.ThingId} measured{PlaceWords.Way(place)}",
        ThingsJoined joined => $"{PlainWords.Of(joined.Kind)} {joined.SameId} is the same as {joined.KeptId}",
        _ => TypeSaid(FactTypes.NameOf(fact.GetType())),
    };

    /// <summary>A place of a reading, in words.</summary>
    public static string Place(ReadingPlaceKind place, string? placeId) => place switch
    {
        ReadingPlaceKind.Driver => "at the driver",
        ReadingPlaceKind.Box => $"in box {placeId}",
        _ => $"at fitting {placeId}",
    };

    /// <summary>A type of fact in words: <c>fleetlight.cable.pulled.v1</c> is "Cable pulled".</summary>
    public static string TypeSaid(string type)
    {
        var parts = type.Split('.');
        if (parts.Length < 4) return type;
        var text = string.Join(' ', parts[1..^1]).Replace('-', ' ');
        return char.ToUpperInvariant(text[0]) + text[1..];
    }

    private static string At(RunEnd? end) => end switch
    {
        RunEnd.Near => " at its near end",
        RunEnd.Far => " at its far end",
        _ => "",
    };

    private static string Through(string[] ducts) => ducts.Length == 0 ? ", in no duct" : $" through {string.Join(", ", ducts)}";

    private static string Metres(double metres) => $"{Figures.Plain(metres, 1)} m";

    private static string Count(int number, string one) => $"{number} {one}{(number == 1 ? "" : "s")}";
}
