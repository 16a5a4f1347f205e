using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Corrections;
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
            [.. views.OfType<DuctView>().OrderBy(ThingNames.Of, NaturalOrder.ByNumbers)],
            [.. views.OfType<CableView>().OrderBy(ThingNames.Of, NaturalOrder.ByNumbers)],
            [.. views.OfType<BoxView>().OrderBy(ThingNames.Of, NaturalOrder.ByNumbers)],
            [
                .. works.Things.Where(thing => thing.Kind == ThingKind.Circuit).Select(thing => DesignOf(works, thing))
                    .OfType<CircuitDesigned>().Where(design => design.SiteId == siteId).OrderBy(ThingNames.Of, NaturalOrder.ByNumbers),
            ]);
    }

    // Reading a circuit's design costs little; judging it, which its view needs, costs much.
    private static CircuitDesigned? DesignOf(MemoryWorks works, ThingRef thing) =>
        EffectiveFacts.Of(works.FileOf(thing)).Facts.Select(fact => fact.CountingData).OfType<CircuitDesigned>().LastOrDefault(design => design.CircuitId == thing.Id);
}
