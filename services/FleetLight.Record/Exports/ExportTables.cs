using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Csv;
using FleetLight.Record.Files;

namespace FleetLight.Record.Exports;

/// <summary>
/// States as rows of tables for other programs, units in the header, words as on the wire, times in UTC, lists with a space between
/// their members, yes and no where something is known.
/// </summary>
public static class ExportTables
{
    /// <summary>Header of the table of ducts.</summary>
    public static readonly string[] OfDucts =
    [
        "Duct", "Site", "Same as", "Service", "Colour", "Wall", "Bore (mm)", "Length (m)", "Depth (mm)", "Bends (degrees)", "Near end at", "Far end at",
        "Label near", "Label far", "Plugged ends", "String inside", "Cables", "Last pull (UTC)", "Fill (%)", "Thickest more (mm)",
    ];

    /// <summary>Header of the table of cables.</summary>
    public static readonly string[] OfCables =
    [
        "Cable", "Site", "Same as", "Length (m)", "Area (mm2)", "Conductor class", "Outside diameter (mm)", "Ducts", "Cores", "Spare cores", "Label near",
        "Label far", "Pulled (UTC)",
    ];

    /// <summary>Header of the table of boxes.</summary>
    public static readonly string[] OfBoxes =
    [
        "Box", "Site", "Same as", "Label", "Lie", "Entry", "Strain relief", "Gel filled", "Breathing", "Longitude (degrees)", "Latitude (degrees)",
        "Sealed (UTC)", "Joints", "Circuits",
    ];

    /// <summary>Header of the table of circuits.</summary>
    public static readonly string[] OfCircuits =
    [
        "Circuit", "Site", "Name", "Drive", "Phase", "Verdict", "Expected at driver (V)", "Expected low (V)", "Expected high (V)", "Last read at driver (V)",
        "Last read (UTC)", "Rules",
    ];

    /// <summary>Header of the table of readings.</summary>
    public static readonly string[] OfReadings =
    [
        "Fact", "Circuit", "Site", "Place", "Box or fitting", "Quantity", "Volts (V)", "Current (mA)", "Loop (ohm)", "Meter", "Taken (UTC)", "Recorded (UTC)",
        "Counts",
    ];

    /// <summary>Header of the table of alerts.</summary>
    public static readonly string[] OfAlerts =
    [
        "Alert", "Site", "Rule", "Severity", "Standing", "Kind", "Thing", "Circuits", "Reason", "Remedy", "Raised (UTC)", "Times raised", "Cleared (UTC)",
        "Acknowledged by", "Acknowledged (UTC)", "Note",
    ];

    /// <summary>Adds a duct.</summary>
    public static void Add(CsvTable table, DuctView duct)
    {
        Start(table, duct).Text(Word(duct.Service)).Text(Word(duct.Colour)).Text(Word(duct.Wall)).Number(duct.BoreMillimetres).Number(duct.LengthMetres)
            .Number(duct.DepthMillimetres).Number(duct.BendsDegrees).Text(duct.NearEndAt).Text(duct.FarEndAt);
        Labels(table, duct.Labels).Text(List(duct.PluggedEnds.Select(Words.Of))).Text(YesNo(duct.StringInside)).Text(List(duct.CableIds))
            .Text(Time(duct.LastPullAt)).Number(duct.FillPercent).Number(duct.ThickestMoreMillimetres).End();
    }

    /// <summary>Adds a cable.</summary>
    public static void Add(CsvTable table, CableView cable)
    {
        Start(table, cable).Number(cable.LengthMetres).Number(cable.AreaSquareMillimetres).Text(Word(cable.ConductorClass))
            .Number(cable.OutsideDiameterMillimetres).Text(List(cable.DuctIds)).Text(List(cable.Cores.Select(core => core.Core))).Number(cable.SpareCores);
        Labels(table, cable.Labels).Text(Time(cable.PulledAt)).End();
    }

    /// <summary>Adds a box.</summary>
    public static void Add(CsvTable table, BoxView box) =>
        Start(table, box).Text(box.Label).Text(Word(box.Lie)).Text(Word(box.Entry)).Text(YesNo(box.StrainRelief)).Text(YesNo(box.GelFilled))
            .Text(YesNo(box.Breathing)).Number(box.Position?.Coordinates[0]).Number(box.Position?.Coordinates[1]).Text(Time(box.SealedAt))
            .Text(List(box.Joints.Select(joint => joint.JointId))).Text(List(box.Joints.Select(joint => joint.CircuitId).Distinct())).End();

    /// <summary>Adds a circuit.</summary>
    public static void Add(CsvTable table, CircuitLine circuit) =>
        table.Text(circuit.Id).Text(circuit.SiteId).Text(circuit.Name).Text(Word(circuit.Drive)).Text(Words.Of(circuit.Phase)).Text(Words.Of(circuit.Verdict))
            .Number(circuit.ExpectedVolts?.Value).Number(circuit.ExpectedVolts?.Low).Number(circuit.ExpectedVolts?.High).Number(circuit.LastVolts)
            .Text(Time(circuit.LastReadAt)).Text(List(circuit.Rules)).End();

    /// <summary>Adds a reading.</summary>
    /// <param name="table">The table.</param>
    /// <param name="reading">The reading.</param>
    /// <param name="counts">Whether it counts, or a correction took it away.</param>
    public static void Add(CsvTable table, ReadingEntry reading, bool counts) =>
        table.Text(reading.Fact).Text(reading.CircuitId).Text(reading.SiteId).Text(Words.Of(reading.Place)).Text(reading.PlaceId).Text(Words.Of(reading.Quantity))
            .Number(reading.Quantity == ReadingQuantity.VoltsDc ? reading.Value : null).Number(reading.Quantity == ReadingQuantity.Milliamps ? reading.Value : null)
            .Number(reading.Quantity == ReadingQuantity.LoopOhms ? reading.Value : null).Text(reading.MeterName).Text(Time(reading.HappenedAt))
            .Text(Time(reading.RecordedAt)).Text(YesNo(counts)).End();

    /// <summary>Adds an alert.</summary>
    public static void Add(CsvTable table, AlertView alert) =>
        table.Text(alert.Id).Text(alert.SiteId).Text(alert.Finding.Rule).Text(Words.Of(alert.Finding.Severity)).Text(Words.Of(alert.Standing))
            .Text(Words.Of(alert.Finding.Subject.Kind)).Text(alert.Finding.Subject.Id).Text(List(alert.Finding.CircuitIds)).Text(alert.Finding.Reason)
            .Text(alert.Finding.Remedy).Text(Time(alert.RaisedAt)).Number(alert.TimesRaised).Text(Time(alert.ClearedAt)).Text(alert.AcknowledgedBy)
            .Text(Time(alert.AcknowledgedAt)).Text(alert.Note).End();

    private static CsvTable Start(CsvTable table, ThingView thing) => table.Text(thing.Id).Text(thing.SiteId).Text(thing.SameAs);

    private static CsvTable Labels(CsvTable table, IReadOnlyDictionary<RunEnd, string>? labels) =>
        table.Text(labels?.GetValueOrDefault(RunEnd.Near)).Text(labels?.GetValueOrDefault(RunEnd.Far));

    // Ids hold no space.
    private static string List(IEnumerable<string> members) => string.Join(' ', members);

    private static string? Word<T>(T? word) where T : struct, Enum => word is { } known ? Words.Of(known) : null;

    private static string? YesNo(bool? value) => value switch { true => "yes", false => "no", _ => null };

    private static string? Time(DateTimeOffset? at) => at?.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'", CultureInfo.InvariantCulture);
}
