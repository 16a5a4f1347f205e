using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Designs;

/// <summary>The rows of one circuit.</summary>
internal sealed class CircuitRows
{
    private readonly List<DesignCells> all = [];

    /// <summary>The first of them.</summary>
    public DesignCells First => all[0];

    /// <summary>Rows that say what the circuit is; one, if all is well.</summary>
    public List<DesignCells> Circuits { get; } = [];

    /// <summary>Rows of fittings.</summary>
    public List<DesignCells> Fittings { get; } = [];

    /// <summary>Rows of runs.</summary>
    public List<DesignCells> Runs { get; } = [];

    /// <summary>Whether anything was said of any of them.</summary>
    public bool IsAnyWrong => all.Any(cells => DesignColumns.All.Any(cells.IsWrong));

    /// <summary>Takes a row.</summary>
    public void Add(DesignRow kind, DesignCells cells)
    {
        all.Add(cells);
        (kind switch { DesignRow.Circuit => Circuits, DesignRow.Fitting => Fittings, _ => Runs }).Add(cells);
    }
}

/// <summary>
/// Makes the design that rows say. Where a cell that is needed says nothing, something sound stands in its place, so that the rest can
/// be checked; such a design is never given out, because the cell was named as wrong.
/// </summary>
internal static class DesignMaker
{
    public static CircuitDesigned Make(CircuitRows rows)
    {
        var circuit = rows.Circuits[0];
        return new CircuitDesigned
        {
            SiteId = circuit.Text(DesignColumns.Site) ?? "missing",
            CircuitId = circuit.CircuitId,
            Name = circuit.Text(DesignColumns.Name) ?? "missing",
            Drive = circuit.Word<DriveKind>(DesignColumns.Drive) ?? DriveKind.ConstantCurrent,
            MainsSide = circuit.YesOrNo(DesignColumns.MainsSide) ?? false,
            Driver = new DriverDesign
            {
                RatedMilliamps = circuit.Measure(DesignColumns.RatedCurrent),
                RatedVolts = circuit.Measure(DesignColumns.RatedVoltage),
                LeastVolts = circuit.Measure(DesignColumns.LeastVoltage),
                MostVolts = circuit.Measure(DesignColumns.MostVoltage),
                MostWatts = circuit.Measure(DesignColumns.MostPower),
                MostAmps = circuit.Measure(DesignColumns.MostCurrent),
                OpenCircuitVolts = circuit.Measure(DesignColumns.OpenCircuit),
                TolerancePercent = circuit.Measure(DesignColumns.Tolerance),
            },
            Fittings = [.. rows.Fittings.Select(Fitting)],
            Runs = [.. rows.Runs.Select(Run)],
        };
    }

    private static FittingDesign Fitting(DesignCells cells) => new()
    {
        FittingId = cells.Text(DesignColumns.Id) ?? $"missing-{cells.Number}",
        RatedWatts = cells.Measure(DesignColumns.RatedPower) ?? 1,
        TolerancePercent = cells.Measure(DesignColumns.Tolerance),
        LeastVolts = cells.Measure(DesignColumns.LeastVoltage),
        Description = cells.Text(DesignColumns.Description),
        Load = cells.Word<LoadKind>(DesignColumns.Load),
        StatedMilliamps = cells.Measure(DesignColumns.RatedCurrent),
        BypassDiode = cells.YesOrNo(DesignColumns.Diode),
        Tail = Tail(cells),
    };

    // Length, area and class of a fitting's row are those of its own tail: all three, or none.
    private static TailDesign? Tail(DesignCells cells)
    {
        DesignColumn[] columns = [DesignColumns.Length, DesignColumns.Area, DesignColumns.Class];
        if (!columns.Any(cells.Has)) return null;
        foreach (var column in columns)
        {
            if (!cells.Has(column))
                cells.Say(column, $"{column.Name} of the fitting's tail is missing.", "Give length, area and conductor class of its tail, or leave all three empty.");
        }

        return new TailDesign
        {
            LengthMetres = cells.Measure(DesignColumns.Length) ?? 1,
            AreaSquareMillimetres = cells.Measure(DesignColumns.Area) ?? 1,
            ConductorClass = cells.Word<ConductorClass>(DesignColumns.Class) ?? ConductorClass.Class5,
        };
    }

    private static RunDesign Run(DesignCells cells) => new()
    {
        RunId = cells.Text(DesignColumns.Id) ?? $"missing-{cells.Number}",
        From = cells.Text(DesignColumns.From) ?? $"missing-{cells.Number}",
        To = cells.Text(DesignColumns.To) ?? $"missing-{cells.Number}",
        LengthMetres = cells.Measure(DesignColumns.Length) ?? 1,
        AreaSquareMillimetres = cells.Measure(DesignColumns.Area) ?? 1,
        ConductorClass = cells.Word<ConductorClass>(DesignColumns.Class) ?? ConductorClass.Class5,
        Surroundings = cells.Word<RunSurroundings>(DesignColumns.Surroundings),
        CableId = cells.Text(DesignColumns.Cable),
        ConductorsInLoop = cells.Whole(DesignColumns.Conductors),
        JointOhms = cells.Measure(DesignColumns.Joints),
    };
}
