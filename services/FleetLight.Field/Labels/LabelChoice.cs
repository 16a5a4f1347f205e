using FleetLight.Contracts;
using FleetLight.Field.Sites;
using FleetLight.Labels;

namespace FleetLight.Field.Labels;

/// <summary>The labels that a site can have, with what they are called in the list. Pure.</summary>
/// <param name="Key">Names it in the list.</param>
/// <param name="Group">Under which heading it stands.</param>
/// <param name="Name">What it is called.</param>
/// <param name="Text">What the label says.</param>
public sealed record LabelChoice(string Key, string Group, string Name, LabelText Text)
{
    /// <summary>All of a site.</summary>
    public static IReadOnlyList<LabelChoice> Of(ISiteState site)
    {
        ArgumentNullException.ThrowIfNull(site);
        var names = site.Designs.ToDictionary(design => design.CircuitId, design => design.Name);
        string NameOf(string circuit) => names.GetValueOrDefault(circuit) ?? circuit;
        return
        [
            .. site.Ducts.SelectMany(duct => SiteLabels.Of(duct).Select(text => Make("Ducts", ThingNames.Of(duct), text))),
            .. site.Cables.SelectMany(cable => SiteLabels.Of(cable, NameOf).Select(text => Make("Cables", ThingNames.Of(cable), text))),
            .. site.Boxes.Select(box => Make("Boxes", ThingNames.Of(box), SiteLabels.Of(box, NameOf))),
        ];
    }

    private static LabelChoice Make(string group, string name, LabelText text)
    {
        var end = text.End switch { RunEnd.Near => ", near end", RunEnd.Far => ", far end", _ => "" };
        return new LabelChoice($"{text.Kind}:{text.Id}:{text.End}", group, name + end, text);
    }
}
