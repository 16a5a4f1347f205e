namespace FleetLight.Record.Designs;

/// <summary>Kinds of row in a file of designs.</summary>
[Flags]
internal enum DesignRow
{
    None = 0,
    Circuit = 1,
    Fitting = 2,
    Run = 4,
    Any = Circuit | Fitting | Run,
}

/// <summary>A column of a file of designs.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Unit">The unit of its numbers; none where it holds text or a plain number.</param>
/// <param name="On">The rows on which it is filled in.</param>
/// <param name="Needed">The rows on which it has to be.</param>
/// <param name="Members">The members of the design that it holds, by the kind of row.</param>
internal sealed record DesignColumn(
    string Name, string? Unit, DesignRow On, DesignRow Needed, params (DesignRow Row, string Member)[] Members)
{
    /// <summary>What its header says.</summary>
    public string Header => Unit is null ? Name : $"{Name} ({Unit})";
}

/// <summary>The columns of a file of designs, in the order in which they are written.</summary>
internal static class DesignColumns
{
    public static readonly DesignColumn Row = new("Row", null, DesignRow.Any, DesignRow.Any);
    public static readonly DesignColumn Circuit = new("Circuit", null, DesignRow.Any, DesignRow.Any, (DesignRow.Circuit, "circuitId"));

    public static readonly DesignColumn Id = new(
        "Id", null, DesignRow.Fitting | DesignRow.Run, DesignRow.Fitting | DesignRow.Run, (DesignRow.Fitting, "fittingId"), (DesignRow.Run, "runId"));

    public static readonly DesignColumn Site = new("Site", null, DesignRow.Circuit, DesignRow.Circuit, (DesignRow.Circuit, "siteId"));
    public static readonly DesignColumn Name = new("Name", null, DesignRow.Circuit, DesignRow.Circuit, (DesignRow.Circuit, "name"));
    public static readonly DesignColumn Drive = new("Drive", null, DesignRow.Circuit, DesignRow.Circuit, (DesignRow.Circuit, "drive"));
    public static readonly DesignColumn MainsSide = new("Mains side", null, DesignRow.Circuit, DesignRow.None, (DesignRow.Circuit, "mainsSide"));

    public static readonly DesignColumn RatedCurrent = new(
        "Rated current", "mA", DesignRow.Circuit | DesignRow.Fitting, DesignRow.None,
        (DesignRow.Circuit, "ratedMilliamps"), (DesignRow.Fitting, "statedMilliamps"));

    public static readonly DesignColumn RatedVoltage = new("Rated voltage", "V", DesignRow.Circuit, DesignRow.None, (DesignRow.Circuit, "ratedVolts"));
    public static readonly DesignColumn RatedPower = new("Rated power", "W", DesignRow.Fitting, DesignRow.Fitting, (DesignRow.Fitting, "ratedWatts"));

    public static readonly DesignColumn LeastVoltage = new(
        "Least voltage", "V", DesignRow.Circuit | DesignRow.Fitting, DesignRow.None, (DesignRow.Circuit, "leastVolts"), (DesignRow.Fitting, "leastVolts"));

    public static readonly DesignColumn MostVoltage = new("Most voltage", "V", DesignRow.Circuit, DesignRow.None, (DesignRow.Circuit, "mostVolts"));
    public static readonly DesignColumn MostPower = new("Most power", "W", DesignRow.Circuit, DesignRow.None, (DesignRow.Circuit, "mostWatts"));
    public static readonly DesignColumn MostCurrent = new("Most current", "A", DesignRow.Circuit, DesignRow.None, (DesignRow.Circuit, "mostAmps"));
    public static readonly DesignColumn OpenCircuit = new("Open circuit", "V", DesignRow.Circuit, DesignRow.None, (DesignRow.Circuit, "openCircuitVolts"));

    public static readonly DesignColumn Tolerance = new(
        "Tolerance", "%", DesignRow.Circuit | DesignRow.Fitting, DesignRow.None,
        (DesignRow.Circuit, "tolerancePercent"), (DesignRow.Fitting, "tolerancePercent"));

    public static readonly DesignColumn From = new("From", null, DesignRow.Run, DesignRow.Run, (DesignRow.Run, "from"));
    public static readonly DesignColumn To = new("To", null, DesignRow.Run, DesignRow.Run, (DesignRow.Run, "to"));

    public static readonly DesignColumn Length = new(
        "Length", "m", DesignRow.Run | DesignRow.Fitting, DesignRow.Run, (DesignRow.Run, "lengthMetres"), (DesignRow.Fitting, "lengthMetres"));

    public static readonly DesignColumn Area = new(
        "Area", "mm2", DesignRow.Run | DesignRow.Fitting, DesignRow.Run,
        (DesignRow.Run, "areaSquareMillimetres"), (DesignRow.Fitting, "areaSquareMillimetres"));

    public static readonly DesignColumn Class = new(
        "Conductor class", null, DesignRow.Run | DesignRow.Fitting, DesignRow.Run, (DesignRow.Run, "conductorClass"), (DesignRow.Fitting, "conductorClass"));

    public static readonly DesignColumn Surroundings = new("Surroundings", null, DesignRow.Run, DesignRow.None, (DesignRow.Run, "surroundings"));
    public static readonly DesignColumn Cable = new("Cable", null, DesignRow.Run, DesignRow.None, (DesignRow.Run, "cableId"));

    public static readonly DesignColumn Conductors = new(
        "Conductors in loop", null, DesignRow.Run, DesignRow.None, (DesignRow.Run, "conductorsInLoop"));

    public static readonly DesignColumn Joints = new("Joint resistance", "ohm", DesignRow.Run, DesignRow.None, (DesignRow.Run, "jointOhms"));
    public static readonly DesignColumn Load = new("Load", null, DesignRow.Fitting, DesignRow.None, (DesignRow.Fitting, "load"));
    public static readonly DesignColumn Diode = new("Bypass diode", null, DesignRow.Fitting, DesignRow.None, (DesignRow.Fitting, "bypassDiode"));
    public static readonly DesignColumn Description = new("Description", null, DesignRow.Fitting, DesignRow.None, (DesignRow.Fitting, "description"));

    public static readonly IReadOnlyList<DesignColumn> All =
    [
        Row, Circuit, Id, Site, Name, Drive, MainsSide, RatedCurrent, RatedVoltage, RatedPower, LeastVoltage, MostVoltage, MostPower, MostCurrent,
        OpenCircuit, Tolerance, From, To, Length, Area, Class, Surroundings, Cable, Conductors, Joints, Load, Diode, Description,
    ];

    /// <summary>The column that holds a member of a design on rows of a kind.</summary>
    public static DesignColumn? Holding(DesignRow row, string member) =>
        All.FirstOrDefault(column => column.Members.Contains((row, member)));

    /// <summary>The column that a header names, and whether its unit is the right one.</summary>
    public static (DesignColumn? Column, bool IsUnitRight) Find(string header)
    {
        if (header.Length > MostHeader) return (null, false);
        var open = header.LastIndexOf('(');
        var name = open < 0 ? header : header[..open];
        var unit = open < 0 ? null : header[(open + 1)..].TrimEnd().TrimEnd(')');
        var column = ByName.GetValueOrDefault(Plain(name));
        return (column, column is not null && PlainUnit(unit) == PlainUnit(column.Unit));
    }

    private static readonly Dictionary<string, DesignColumn> ByName = All.ToDictionary(one => Plain(one.Name), StringComparer.Ordinal);

    // Far longer than any column's.
    private const int MostHeader = 200;

    private static string Plain(string text) => string.Concat(text.Where(char.IsLetterOrDigit)).ToLowerInvariant();

    // As a keyboard has it or as it is printed. Both omegas that fonts have are taken, and a ± before the percent.
    private static string PlainUnit(string? unit) => (unit ?? "").Trim()
        .Replace("²", "2", StringComparison.Ordinal).Replace("^", "", StringComparison.Ordinal)
        .Replace("\u03A9", "ohm", StringComparison.Ordinal).Replace("\u2126", "ohm", StringComparison.Ordinal)
        .Replace("±", "", StringComparison.Ordinal).Trim();
}
