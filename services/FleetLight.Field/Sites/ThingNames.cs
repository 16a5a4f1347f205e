using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.PageParts.Wording;

namespace FleetLight.Field.Sites;

/// <summary>What things are called in lists and sentences: by their label, or else by what they are. Ids mean nothing to people. Pure.</summary>
public static class ThingNames
{
    private const int Tail = 4;

    /// <summary>A duct: its label, or its colour, bore and where it goes.</summary>
    public static string Of(DuctView duct)
    {
        if (Label(duct.Labels) is { } label) return label;
        string?[] parts =
        [
            duct.Colour is { } colour ? PlainWords.InSentence(colour) : null,
            duct.BoreMillimetres is { } bore ? $"{Number(bore)} mm" : null,
            duct.FarEndAt is { } far ? $"to {far}" : duct.LengthMetres is { } length ? $"{Number(length)} m long" : null,
        ];
        var said = string.Join(", ", parts.Where(part => part is not null));
        return said.Length == 0 ? Unnamed("duct", duct.Id) : $"Duct, {said} ({Short(duct.Id)})";
    }

    /// <summary>A cable: its label, or its cores, area and length.</summary>
    public static string Of(CableView cable)
    {
        if (Label(cable.Labels) is { } label) return label;
        if (cable.AreaSquareMillimetres is not { } area) return Unnamed("cable", cable.Id);
        var length = cable.LengthMetres is { } metres ? $", {Number(metres)} m" : "";
        return $"Cable, {cable.Cores.Count} × {Number(area)} mm²{length} ({Short(cable.Id)})";
    }

    /// <summary>A box: its label.</summary>
    public static string Of(BoxView box) => box.Label is { Length: > 0 } label ? label : Unnamed("box", box.Id);

    /// <summary>A circuit: its name.</summary>
    public static string Of(CircuitDesigned circuit) => circuit.Name;

    /// <summary>A fitting: what the design says of it.</summary>
    public static string Of(FittingDesign fitting) =>
        $"{(fitting.Description is { Length: > 0 } said ? said : $"{Number(fitting.RatedWatts)} W")} ({fitting.FittingId})";

    /// <summary>A fitting: its place in the row, and what the design says of it.</summary>
    public static string Of(FittingDesign fitting, int index) => $"{(index + 1).ToString(CultureInfo.InvariantCulture)}. {Of(fitting)}";

    /// <summary>What a thing of that id is called among those of a site.</summary>
    public static string Of(ISiteState site, ThingKind kind, string id) => kind switch
    {
        ThingKind.Duct => site.Works.DuctOf(id) is { } duct ? Of(duct) : Unnamed("duct", id),
        ThingKind.Cable => site.Works.CableOf(id) is { } cable ? Of(cable) : Unnamed("cable", id),
        ThingKind.Box => site.Works.BoxOf(id) is { } box ? Of(box) : Unnamed("box", id),
        ThingKind.Circuit => site.Designs.FirstOrDefault(design => design.CircuitId == id)?.Name ?? Unnamed("circuit", id),
        _ => site.Works.SiteOf(id)?.Name ?? id,
    };

    private static string? Label(IReadOnlyDictionary<RunEnd, string>? labels) =>
        labels is null ? null : labels.GetValueOrDefault(RunEnd.Near) ?? labels.GetValueOrDefault(RunEnd.Far);

    // Ids minted by an office are short and say something to its people; those minted on a phone do not.
    private static string Unnamed(string kind, string id) => $"{char.ToUpperInvariant(kind[0])}{kind[1..]} {Short(id)}";

    // The word joiner keeps the dots on the line of what they stand for.
    private static string Short(string id) => id.Length <= 12 ? id : $"…\u2060{id[^Tail..]}";

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
