using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Record.Works;

namespace FleetLight.Field.Sites;

/// <summary>What belongs to a site, sorted for lists. Pure.</summary>
internal sealed record SiteParts(
    IReadOnlyList<DuctView> Ducts, IReadOnlyList<CableView> Cables, IReadOnlyList<BoxView> Boxes, IReadOnlyList<CircuitDesigned> Designs)
{
    /// <summary>Nothing.</summary>
    public static SiteParts None { get; } = new([], [], [], []);

    /// <summary>The parts of a site.</summary>
    public static SiteParts Of(MemoryWorks works, string siteId)
    {
        var views = works.Things.Where(thing => thing.Kind != ThingKind.Circuit).Select(works.ViewOf).OfType<ThingView>()
            .Where(view => view.SameAs is null && view.SiteId == siteId).ToArray();
        return new SiteParts(
            [.. views.OfType<DuctView>().OrderBy(ThingNames.Of, NaturalOrder.Comparer)],
            [.. views.OfType<CableView>().OrderBy(ThingNames.Of, NaturalOrder.Comparer)],
            [.. views.OfType<BoxView>().OrderBy(ThingNames.Of, NaturalOrder.Comparer)],
            [
                .. works.Things.Where(thing => thing.Kind == ThingKind.Circuit).Select(thing => DesignOf(works, thing))
                    .OfType<CircuitDesigned>().Where(design => design.SiteId == siteId).OrderBy(ThingNames.Of, NaturalOrder.Comparer),
            ]);
    }

    // Reading a circuit's design costs little; judging it, which its view needs, costs much.
    private static CircuitDesigned? DesignOf(MemoryWorks works, ThingRef thing) =>
        EffectiveFacts.Of(works.FileOf(thing)).Facts.Select(fact => fact.CountingData).OfType<CircuitDesigned>().LastOrDefault(design => design.CircuitId == thing.Id);
}
