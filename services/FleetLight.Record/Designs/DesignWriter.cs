using FleetLight.Contracts.Facts;
using FleetLight.Record.Csv;
using FleetLight.Record.Files;

namespace FleetLight.Record.Designs;

/// <summary>Writes designs as a table: a row for each circuit, then one for each of its fittings and runs.</summary>
public static class DesignWriter
{
    /// <summary>The designs as CSV; <see cref="DesignReader.OfCsv(string)"/> reads exactly the same again.</summary>
    public static string ToCsv(IEnumerable<CircuitDesigned> designs)
    {
        ArgumentNullException.ThrowIfNull(designs);
        var table = new CsvTable([.. DesignColumns.All.Select(column => column.Header)]);
        foreach (var design in designs)
        {
            Write(table, cells => Circuit(cells, design));
            foreach (var fitting in design.Fittings) Write(table, cells => Fitting(cells, design.CircuitId, fitting));
            foreach (var run in design.Runs) Write(table, cells => Run(cells, design.CircuitId, run));
        }

        return table.ToString();
    }

    private static void Write(CsvTable table, Action<Dictionary<DesignColumn, object?>> fill)
    {
        var cells = new Dictionary<DesignColumn, object?>();
        fill(cells);
        foreach (var column in DesignColumns.All)
        {
            var value = cells.GetValueOrDefault(column);
            if (value is double number) table.Number(number);
            else table.Text(value as string);
        }

        table.End();
    }

    private static void Circuit(Dictionary<DesignColumn, object?> cells, CircuitDesigned design)
    {
        cells[DesignColumns.Row] = "circuit";
        cells[DesignColumns.Circuit] = design.CircuitId;
        cells[DesignColumns.Site] = design.SiteId;
        cells[DesignColumns.Name] = design.Name;
        cells[DesignColumns.Drive] = Words.Of(design.Drive);
        cells[DesignColumns.MainsSide] = YesOrNo(design.MainsSide);
        cells[DesignColumns.RatedCurrent] = design.Driver.RatedMilliamps;
        cells[DesignColumns.RatedVoltage] = design.Driver.RatedVolts;
        cells[DesignColumns.LeastVoltage] = design.Driver.LeastVolts;
        cells[DesignColumns.MostVoltage] = design.Driver.MostVolts;
        cells[DesignColumns.MostPower] = design.Driver.MostWatts;
        cells[DesignColumns.MostCurrent] = design.Driver.MostAmps;
        cells[DesignColumns.OpenCircuit] = design.Driver.OpenCircuitVolts;
        cells[DesignColumns.Tolerance] = design.Driver.TolerancePercent;
    }

    private static void Fitting(Dictionary<DesignColumn, object?> cells, string circuit, FittingDesign fitting)
    {
        cells[DesignColumns.Row] = "fitting";
        cells[DesignColumns.Circuit] = circuit;
        cells[DesignColumns.Id] = fitting.FittingId;
        cells[DesignColumns.RatedPower] = fitting.RatedWatts;
        cells[DesignColumns.Tolerance] = fitting.TolerancePercent;
        cells[DesignColumns.LeastVoltage] = fitting.LeastVolts;
        cells[DesignColumns.Description] = fitting.Description;
        cells[DesignColumns.Load] = fitting.Load is { } load ? Words.Of(load) : null;
        cells[DesignColumns.RatedCurrent] = fitting.StatedMilliamps;
        cells[DesignColumns.Diode] = fitting.BypassDiode is { } diode ? YesOrNo(diode) : null;
        if (fitting.Tail is not { } tail) return;
        cells[DesignColumns.Length] = tail.LengthMetres;
        cells[DesignColumns.Area] = tail.AreaSquareMillimetres;
        cells[DesignColumns.Class] = Words.Of(tail.ConductorClass);
    }

    private static void Run(Dictionary<DesignColumn, object?> cells, string circuit, RunDesign run)
    {
        cells[DesignColumns.Row] = "run";
        cells[DesignColumns.Circuit] = circuit;
        cells[DesignColumns.Id] = run.RunId;
        cells[DesignColumns.From] = run.From;
        cells[DesignColumns.To] = run.To;
        cells[DesignColumns.Length] = run.LengthMetres;
        cells[DesignColumns.Area] = run.AreaSquareMillimetres;
        cells[DesignColumns.Class] = Words.Of(run.ConductorClass);
        cells[DesignColumns.Surroundings] = run.Surroundings is { } where ? Words.Of(where) : null;
        cells[DesignColumns.Cable] = run.CableId;
        cells[DesignColumns.Conductors] = (double?)run.ConductorsInLoop;
        cells[DesignColumns.Joints] = run.JointOhms;
    }

    private static string YesOrNo(bool yes) => yes ? "yes" : "no";
}
