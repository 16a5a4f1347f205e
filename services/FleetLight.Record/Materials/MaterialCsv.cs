using FleetLight.Contracts.Views;
using FleetLight.Record.Csv;
using FleetLight.Record.Files;

namespace FleetLight.Record.Materials;

/// <summary>Writes materials as a table: a row for each material, each length to cut and each lead, units in the header.</summary>
public static class MaterialCsv
{
    /// <summary>The table.</summary>
    public static string Of(MaterialsView view)
    {
        ArgumentNullException.ThrowIfNull(view);
        var table = new CsvTable(
            "Row", "Sort", "Item", "Circuit", "From", "To", "Needed (pieces)", "Needed (m)", "Needed (ml)", "Recorded (pieces)", "Recorded (m)",
            "Recorded (ml)", "Difference (pieces)", "Difference (m)", "Difference (ml)", "Note");
        foreach (var line in view.Lines)
        {
            table.Text("material").Text(Words.Of(line.Sort)).Text(line.Item).Text(null).Text(null).Text(null);
            foreach (var value in (ReadOnlySpan<double?>)[line.Needed, line.Recorded, line.Difference])
                foreach (var unit in Enum.GetValues<MaterialUnit>()) table.Number(line.Unit == unit ? value : null);
            table.Text(line.Note).End();
        }

        foreach (var cut in view.Cuts)
        {
            Start("cut", MaterialSort.Cable, cut.Cable, cut.CircuitId, cut.From, cut.To);
            Metres(cut.CutMetres, cut.PulledMetres, cut.RunId is null ? "Tail" : $"Run {cut.RunId}{(cut.CableId is null ? "" : $", cable {cut.CableId}")}");
        }

        foreach (var lead in view.Leads)
        {
            Start("lead", MaterialSort.Fitting, $"Lead of fitting {lead.FittingId}", lead.CircuitId, lead.FittingId, lead.BoxId);
            Metres(
                lead.LeadMetres, null,
                lead.Missing ?? $"By {lead.DistanceBy}{(lead.TailMetres is { } tail ? $"; its tail by the design: {Words.Of(tail, "m")}" : "")}");
        }

        return table.ToString();

        void Start(string row, MaterialSort sort, string item, string circuit, string from, string? to) =>
            table.Text(row).Text(Words.Of(sort)).Text(item).Text(circuit).Text(from).Text(to);

        void Metres(double? needed, double? recorded, string note)
        {
            foreach (var value in (ReadOnlySpan<double?>)[needed, recorded, needed - recorded])
                table.Number(null).Rounded(value, 2).Number(null);
            table.Text(note).End();
        }
    }
}
