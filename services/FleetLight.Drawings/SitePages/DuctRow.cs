using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;
using FleetLight.PageParts.Wording;
using FleetLight.Record.Calculations;
using FleetLight.Record.Files;

namespace FleetLight.PageParts.SitePages;

/// <summary>A duct, what is in it and what still goes in. Advice: the crew's own look at the duct comes first.</summary>
public sealed record DuctRow
{
    /// <summary>The duct.</summary>
    public required DuctView Duct { get; init; }

    /// <summary>What people call it: its label, else its id.</summary>
    public required string Name { get; init; }

    /// <summary>Each cable in it, in plain words.</summary>
    public required IReadOnlyList<string> Inside { get; init; }

    /// <summary>How full it is, in plain words.</summary>
    public required string Fill { get; init; }

    /// <summary>What still goes in, in plain words.</summary>
    public required string StillFits { get; init; }

    /// <summary>The same as a number: outside diameter of the thickest further cable, mm; none where that cannot be told.</summary>
    public double? ThickestMoreMillimetres { get; init; }

    /// <summary>How the next cable gets in.</summary>
    public required string Way { get; init; }

    /// <summary>The rows of a site's ducts, in the order of their names.</summary>
    public static IReadOnlyList<DuctRow> Of(IEnumerable<DuctView> ducts, IReadOnlyList<CableView> cables)
    {
        ArgumentNullException.ThrowIfNull(ducts);
        var known = cables.ToDictionary(cable => cable.Id, StringComparer.Ordinal);
        return [.. ducts.Where(duct => duct.SameAs is null).Select(duct => Of(duct, known)).OrderBy(row => row.Name, NaturalOrder.Comparer)];
    }

    /// <summary>What people call a duct.</summary>
    public static string NameOf(DuctView duct)
    {
        ArgumentNullException.ThrowIfNull(duct);
        return duct.Labels?.Values.FirstOrDefault(label => label.Length > 0) ?? duct.Id;
    }

    private static DuctRow Of(DuctView duct, Dictionary<string, CableView> known)
    {
        var inside = duct.CableIds.Select(id => (Id: id, Cable: known.GetValueOrDefault(id))).ToList();
        var (fill, fits, thickest) = Room(duct, inside);
        return new DuctRow
        {
            Duct = duct,
            Name = NameOf(duct),
            Inside = [.. inside.Select(each => Cable(each.Id, each.Cable))],
            Fill = fill,
            StillFits = fits,
            ThickestMoreMillimetres = thickest,
            Way = duct.StringInside
                ? $"A string waits in it{(duct.StringMethod is { } method ? $": {PlainWords.Of(method).ToLowerInvariant()}" : "")}."
                : "No string is recorded in it.",
        };
    }

    private static string Cable(string id, CableView? cable)
    {
        var name = cable?.Labels?.Values.FirstOrDefault() ?? id;
        if (cable is not { AreaSquareMillimetres: { } area }) return $"{name}, not known further";
        var spare = cable.SpareCores switch { 0 => "no core spare", 1 => "1 core spare", var many => $"{many} cores spare" };
        return $"{name}: {cable.Cores.Count} × {Figures.Plain(area)} mm²{(cable.OutsideDiameterMillimetres is { } mm ? $", {Figures.Plain(mm, 1)} mm thick" : "")}, {spare}";
    }

    private static (string Fill, string Fits, double? Thickest) Room(DuctView duct, List<(string Id, CableView? Cable)> inside)
    {
        if (duct.BoreMillimetres is not { } bore) return ("Not known: its bore is not recorded.", "Cannot be told.", null);
        if (inside.Any(each => each.Cable?.OutsideDiameterMillimetres is null))
            return ("Not known: a cable in it has no recorded diameter.", "Cannot be told until its thickness is recorded.", null);
        var (answer, problem) = CalculateDuctFill.Answer(new DuctFillRequest
        {
            BoreMillimetres = bore,
            Cables = [.. inside.Select(each => new CablesInput { OutsideDiameterMillimetres = each.Cable!.OutsideDiameterMillimetres!.Value })],
        });
        if (answer is null) return ("Cannot be worked out.", problem?.Detail ?? "Cannot be told.", null);
        var fill = inside.Count == 0
            ? "Empty."
            : $"{Figures.Plain(answer.FillPercent, 0)} % of the bore; up to {Figures.Plain(answer.PermittedPercent, 0)} % is easily pulled.";
        var thickest = answer.ThickestMoreMillimetres;
        return (fill, thickest > 0 ? $"One more cable of up to {Figures.Plain(Math.Floor(thickest * 10) / 10, 1)} mm." : "Nothing more.", thickest);
    }
}
