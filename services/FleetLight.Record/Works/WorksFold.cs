using System.Collections.Immutable;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Boxes;
using FleetLight.Record.Cables;
using FleetLight.Record.Circuits;
using FleetLight.Record.Corrections;
using FleetLight.Record.Ducts;
using FleetLight.Record.Files;
using FleetLight.Record.Positions;
using FleetLight.Record.Sites;

namespace FleetLight.Record.Works;

/// <summary>
/// Folds things with all that they lean on. After <see cref="Reach"/> said what to fold again, the order is: sites,
/// cables and boxes; then ducts, which look at sites and cables; then circuits, which look at all of them.
/// </summary>
public static class WorksFold
{
    /// <summary>The state of a site.</summary>
    public static SiteView Site(IWorks works, string id) => SiteFold.Fold(works.FileOf(new(ThingKind.Site, id)));

    /// <summary>The state of a cable.</summary>
    public static CableView Cable(IWorks works, string id)
    {
        var thing = new ThingRef(ThingKind.Cable, id);
        return CableFold.Fold(works.FileOf(thing), SameFiles(works, thing), Networks(works));
    }

    /// <summary>The state of a box.</summary>
    public static BoxView Box(IWorks works, string id)
    {
        var thing = new ThingRef(ThingKind.Box, id);
        return BoxFold.Fold(works.FileOf(thing), SameFiles(works, thing), Networks(works));
    }

    /// <summary>The state of a duct. The states of its site and of the cables in it must be folded before.</summary>
    public static DuctView Duct(IWorks works, string id)
    {
        var thing = new ThingRef(ThingKind.Duct, id);
        var same = WithJoined(works, [thing]);
        var cables = WithJoined(works, same.SelectMany(duct => works.Linked(new(duct, ThingKind.Cable, false))));
        return DuctFold.FoldOn(
            works.FileOf(thing),
            [.. same.Where(other => other != thing).Select(works.FileOf)],
            works.SiteOf,
            [.. cables.Select(cable => works.CableOf(cable.Id)).OfType<CableView>()],
            Networks(works));
    }

    /// <summary>The basis of a circuit. The states of all that it leans on must be folded before.</summary>
    public static CircuitBasis Basis(IWorks works, string id)
    {
        var thing = new ThingRef(ThingKind.Circuit, id);
        var cables = WithJoined(works, works.Linked(new(thing, ThingKind.Cable, true)));
        var ducts = WithJoined(works, cables.SelectMany(cable => works.Linked(new(cable, ThingKind.Duct, true))));
        var boxes = WithJoined(works, works.Linked(new(thing, ThingKind.Box, true)));
        return CircuitBasisFold.Fold(works.FileOf(thing), new CircuitNeighbours(
            [.. cables.Select(cable => works.CableOf(cable.Id)).OfType<CableView>()],
            [.. ducts.Select(duct => works.DuctOf(duct.Id)).OfType<DuctView>()],
            [.. boxes.Select(box => works.BoxOf(box.Id)).OfType<BoxView>()]), works.Judging, Networks(works));
    }

    /// <summary>The cables that make the runs of a circuit's design, as far as they are recorded as pulled.</summary>
    public static IReadOnlyList<RunCable> RunCables(IWorks works, string id)
    {
        var design = ThingHistory.Of(works.FileOf(new(ThingKind.Circuit, id)), []).Newest<CircuitDesigned>();
        List<RunCable> cables = [];
        foreach (var run in design?.Data.Runs ?? [])
        {
            if (run.CableId is not { } named) continue;
            var cable = new ThingRef(ThingKind.Cable, works.CableOf(named)?.SameAs ?? named);
            var state = CableReader.Read(ThingHistory.Of(works.FileOf(cable), SameFiles(works, cable)));
            if (state.Pull is not null) cables.Add(RunCable.Of(run.RunId, cable.Id, state));
        }

        return cables;
    }

    // The reference points of sites, each adjusted once a fold and only where something was measured from them.
    private static Func<string, ReferenceNetwork> Networks(IWorks works)
    {
        var known = new Dictionary<string, ReferenceNetwork>(StringComparer.Ordinal);
        return site =>
        {
            if (!known.TryGetValue(site, out var network)) known[site] = network = ReferenceNetwork.Of(works.FileOf(new(ThingKind.Site, site)));
            return network;
        };
    }

    private static ImmutableArray<ThingFile> SameFiles(IWorks works, ThingRef thing) =>
        [.. WithJoined(works, [thing]).Where(other => other != thing).Select(works.FileOf)];

    // The things and all that are linked with them as the same, directly or through others.
    private static List<ThingRef> WithJoined(IWorks works, IEnumerable<ThingRef> things)
    {
        var all = new HashSet<ThingRef>(things);
        var open = new Queue<ThingRef>(all);
        while (open.TryDequeue(out var thing))
            foreach (var other in works.Linked(new(thing, thing.Kind, false)))
                if (all.Add(other)) open.Enqueue(other);
        return [.. all.OrderBy(thing => thing.Id, StringComparer.Ordinal)];
    }
}
