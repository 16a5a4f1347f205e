using FleetLight.Contracts;
using FleetLight.PageParts.Wording;

namespace FleetLight.PageParts.Designing;

/// <summary>The fields of a design, in the order in which they are filled in.</summary>
public static class SheetFields
{
    private static readonly FieldChoice[] Classes = Words<ConductorClass>(PlainWords.Of);

    /// <summary>Of the circuit itself.</summary>
    public static IReadOnlyList<SheetField> Head { get; } =
    [
        new("siteId", "Site") { IsNeeded = true },
        new("circuitId", "Id of the circuit") { IsNeeded = true },
        new("name", "Name") { IsNeeded = true },
        new("drive", "Drive", Kind: FieldKind.Choice) { IsNeeded = true, Choices = Words<DriveKind>(PlainWords.Of) },
        new("mainsSide", "The mains side is part of the job", Kind: FieldKind.YesOrNo),
    ];

    /// <summary>Of the driver.</summary>
    public static IReadOnlyList<SheetField> Driver { get; } =
    [
        Number("ratedMilliamps", "Rated current", "mA") with { OnlyFor = DriveKind.ConstantCurrent, IsNeeded = true },
        Number("ratedVolts", "Rated voltage", "V") with { OnlyFor = DriveKind.ConstantVoltage, IsNeeded = true },
        Number("leastVolts", "Least voltage", "V") with { OnlyFor = DriveKind.ConstantCurrent },
        Number("mostVolts", "Greatest voltage", "V") with { OnlyFor = DriveKind.ConstantCurrent },
        Number("mostAmps", "Greatest current", "A") with { OnlyFor = DriveKind.ConstantVoltage },
        Number("mostWatts", "Greatest power", "W"),
        Number("openCircuitVolts", "Voltage with nothing connected", "V"),
        Number("tolerancePercent", "Tolerance, ±", "%") with { WhereEmpty = "5" },
    ];

    /// <summary>Of a fitting.</summary>
    public static IReadOnlyList<SheetField> Fitting { get; } =
    [
        new("fittingId", "Fitting") { IsNeeded = true },
        Number("ratedWatts", "Power", "W") with { IsNeeded = true },
        new("description", "What it is"),
        Number("tolerancePercent", "Tolerance, ±", "%") with { WhereEmpty = "5", IsSeldom = true },
        Number("leastVolts", "Least voltage", "V") with { OnlyFor = DriveKind.ConstantVoltage, IsSeldom = true },
        new("load", "Load", Kind: FieldKind.Choice)
        {
            Choices = Words<LoadKind>(PlainWords.Of), OnlyFor = DriveKind.ConstantVoltage, IsSeldom = true, WhereEmpty = "constant power",
        },
        Number("statedMilliamps", "Power stated at", "mA") with { OnlyFor = DriveKind.ConstantCurrent, IsSeldom = true, WhereEmpty = "the driver's" },
        new("bypassDiode", "Bypass diode", Kind: FieldKind.YesOrNo) { OnlyFor = DriveKind.ConstantCurrent, IsSeldom = true, WhereEmpty = "not known" },
        Number("tail.lengthMetres", "Tail", "m") with { IsSeldom = true },
        Number("tail.areaSquareMillimetres", "Tail area", "mm²") with { IsSeldom = true },
        new("tail.conductorClass", "Tail conductor", Kind: FieldKind.Choice) { Choices = Classes, IsSeldom = true },
    ];

    /// <summary>Of a run of cable.</summary>
    public static IReadOnlyList<SheetField> Run { get; } =
    [
        new("runId", "Run") { IsNeeded = true },
        new("from", "From") { IsNeeded = true },
        new("to", "To") { IsNeeded = true },
        Number("lengthMetres", "Length", "m") with { IsNeeded = true },
        Number("areaSquareMillimetres", "Area", "mm²") with { IsNeeded = true },
        new("conductorClass", "Conductor", Kind: FieldKind.Choice) { Choices = Classes, IsNeeded = true },
        new("cableId", "Cable") { WhereEmpty = "none yet" },
        new("surroundings", "Lies", Kind: FieldKind.Choice) { Choices = Words<RunSurroundings>(PlainWords.Of), WhereEmpty = "in the ground", IsSeldom = true },
        Number("conductorsInLoop", "Conductors in the loop", null) with { WhereEmpty = "2", IsSeldom = true },
        Number("jointOhms", "Joints", "Ω") with { WhereEmpty = "0", IsSeldom = true },
    ];

    /// <summary>The fields of a list of rows.</summary>
    public static IReadOnlyList<SheetField> Of(RowKind kind) => kind == RowKind.Fitting ? Fitting : Run;

    private static SheetField Number(string member, string label, string? unit) => new(member, label, unit, FieldKind.Number);

    private static FieldChoice[] Words<T>(Func<T, string> says) where T : struct, Enum =>
        [.. Enum.GetValues<T>().Select(word => new FieldChoice(Record.Files.Words.Of(word), says(word)))];
}
