using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Field.Recording.Forms;
using FleetLight.Field.Sites;
using FleetLight.PageParts.Wording;

namespace FleetLight.Field.Recording;

/// <summary>A fact in one line. Pure.</summary>
public static class FactWords
{
    /// <summary>What it says, with the one figure that matters most.</summary>
    public static string Of(IFact fact, ISiteState site) => fact switch
    {
        SiteOpened opened => $"Site opened: {opened.Name}",
        CircuitDesigned design => $"Circuit designed: {design.Name}, {design.Fittings.Length.ToString(CultureInfo.InvariantCulture)} fittings",
        DuctLaid duct => $"Duct laid, {Number(duct.LengthMetres)} m",
        StringLeft left => $"String left in {ThingNames.Of(site, ThingKind.Duct, left.DuctId)}",
        DuctPlugged plugged => $"Duct plugged, {PlainWords.InSentence(plugged.End)}",
        DuctLabelled labelled => $"Duct labelled {labelled.Label}",
        CablePulled cable => $"Cable pulled, {Number(cable.LengthMetres)} m",
        CableLabelled labelled => $"Cable labelled {labelled.Label}",
        CoreSleeved sleeve => $"Core {sleeve.Core} sleeved {PlainWords.InSentence(sleeve.Polarity)}, {PlainWords.InSentence(sleeve.End)}",
        BoxSealed box => $"Box sealed: {box.Label ?? ThingNames.Of(site, ThingKind.Box, box.BoxId)}",
        JointMade joint => $"Joint made in {ThingNames.Of(site, ThingKind.Box, joint.BoxId)}",
        FittingFixed fitting => $"Fitting {fitting.FittingId} fixed",
        DriverConnected driver => $"Driver connected{(driver.At is { } at ? $": {at}" : "")}",
        ReadingTaken reading =>
            $"Reading {Number(reading.Value)} {Unit(reading.Quantity)} {PlainWords.InSentence(reading.Place)}{(reading.PlaceId is { } place ? $" {place}" : "")}",
        TestMade test => $"Test made: {PlainWords.InSentence(test.Test)}",
        CircuitEnergised energised => energised.UnlitFittingIds is { Length: > 0 } dark
            ? $"Energised, {dark.Length.ToString(CultureInfo.InvariantCulture)} dark"
            : "Energised, all lit",
        CircuitHandedOver => "Handed over",
        FaultReported fault => $"Fault seen: {fault.What}",
        RepairMade repair => $"Repair made: {repair.What}",
        ThingsJoined joined => $"Recorded twice: {PlainWords.InSentence(joined.Kind)}",
        ReferencePointRecorded point => $"Reference point: {point.Name}",
        PlaceMeasured place => $"Place measured{PlaceWords.Way(place)}: {place.FittingId ?? ThingNames.Of(site, place.Kind, place.ThingId)}",
        FactCorrected corrected => corrected.Action == CorrectionAction.Withdraw ? $"Taken back: {corrected.Reason}" : $"Changed: {corrected.Reason}",
        _ => FormOf(fact)?.Title ?? Plain(FactTypes.NameOf(fact.GetType())),
    };

    /// <summary>A type of fact where its data cannot be read.</summary>
    public static string Plain(string type) => type switch
    {
        PhotoFact.Type => "Photo taken",
        _ => FactForms.Of(FactTypes.Find(type))?.Title ?? type.Replace("fleetlight.", "", StringComparison.Ordinal).Replace('.', ' '),
    };

    /// <summary>A fact as recorded, in one line.</summary>
    public static string Of(RecordedFact fact, ISiteState site)
    {
        ArgumentNullException.ThrowIfNull(fact);
        return Of(fact.Data, site);
    }

    private static FactForm? FormOf(IFact fact) => FactForms.Of(fact.GetType());

    private static string Unit(ReadingQuantity quantity) => quantity switch
    {
        ReadingQuantity.VoltsDc => "V",
        ReadingQuantity.Milliamps => "mA",
        _ => "Ω",
    };

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
