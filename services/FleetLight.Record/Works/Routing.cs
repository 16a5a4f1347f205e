using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Positions;

namespace FleetLight.Record.Works;

/// <summary>Which things a fact touches: in whose files it belongs, and what then leans on what.</summary>
public static class Routing
{
    /// <summary>The end of a run that is the driver, not a thing with a file.</summary>
    public const string DriverEnd = "driver";

    /// <summary>
    /// The things in whose files the fact belongs, each once. A correction by itself touches nothing: see
    /// <see cref="TouchesOfCorrection"/>. A reading touches its circuit, though it is kept in a window beside the file.
    /// </summary>
    public static IReadOnlyList<ThingRef> Touches(IFact fact)
    {
        var things = new List<ThingRef>(4);
        foreach (var thing in Each(fact))
            if (!things.Contains(thing)) things.Add(thing);
        return things;
    }

    /// <summary>
    /// The things in whose files a corrected fact and all its corrections belong: those that the fact touched as sent
    /// and those that it touches by any of its replacements.
    /// </summary>
    /// <remarks>
    /// Every one of these files holds the fact and every correction of it, so that all of them agree on which counts:
    /// where a fact was moved from one thing to another and back, the file of the other must know that it went back.
    /// The files of the things that the fact touched as sent hold all corrections known so far; there they are found
    /// again.
    /// </remarks>
    /// <param name="target">Data of the corrected fact, as sent.</param>
    /// <param name="replacements">The data of each of its corrections that replaces it.</param>
    public static IReadOnlyList<ThingRef> TouchesOfCorrections(IFact target, IEnumerable<IFact> replacements) =>
        // A correction is not itself corrected, so one that names a correction has no effect anywhere.
        target is FactCorrected ? [] : [.. Touches(target).Union(replacements.SelectMany(Touches))];

    /// <summary>The same for a fact that has one correction only.</summary>
    /// <param name="target">Data of the corrected fact, as sent.</param>
    /// <param name="replacement">Data that counts in its place, where there is any.</param>
    public static IReadOnlyList<ThingRef> TouchesOfCorrection(IFact target, IFact? replacement) =>
        TouchesOfCorrections(target, replacement is null ? [] : [replacement]);

    /// <summary>Whether the fact says something about that thing.</summary>
    public static bool Concerns(IFact fact, ThingKind kind, IReadOnlyCollection<string> ids)
    {
        foreach (var thing in Each(fact))
            if (thing.Kind == kind && ids.Contains(thing.Id)) return true;
        return false;
    }

    /// <summary>
    /// Who leans on whom because of the fact: when the state of <c>From</c> changes, <c>To</c> is judged again. The
    /// links are only ever added; the folds take no notice of one whose fact no longer counts.
    /// </summary>
    public static IReadOnlyList<(ThingRef From, ThingRef To)> Edges(IFact fact) => fact switch
    {
        DuctLaid duct => [(new(ThingKind.Site, duct.SiteId), new(ThingKind.Duct, duct.DuctId))],
        CablePulled cable => OfPull(cable),
        CircuitDesigned design => OfDesign(design),
        JointMade joint => OfJoint(joint),
        // What is measured from reference points moves with them; so do the distances by which a well known position is found.
        PlaceMeasured place => [(new(ThingKind.Site, place.SiteId), new(place.Kind, place.ThingId))],
        BoxSealed { Position: { } at } box when FindBy.MayBeTold(at) => [(new(ThingKind.Site, box.SiteId), new(ThingKind.Box, box.BoxId))],
        FittingFixed { Position: { } at } fitting when FindBy.MayBeTold(at) => [(new(ThingKind.Site, fitting.SiteId), new(ThingKind.Circuit, fitting.CircuitId))],
        DriverConnected { Position: { } at } driver when FindBy.MayBeTold(at) => [(new(ThingKind.Site, driver.SiteId), new(ThingKind.Circuit, driver.CircuitId))],
        ThingsJoined join =>
        [
            (new(join.Kind, join.KeptId), new(join.Kind, join.SameId)),
            (new(join.Kind, join.SameId), new(join.Kind, join.KeptId)),
        ],
        _ => [],
    };

    private static IEnumerable<ThingRef> Each(IFact fact) => fact switch
    {
        SiteOpened site => [new(ThingKind.Site, site.SiteId)],
        ReferencePointRecorded point => [new(ThingKind.Site, point.SiteId)],
        PlaceMeasured place => [new(place.Kind, place.ThingId)],
        DuctLaid duct => [new(ThingKind.Duct, duct.DuctId)],
        DuctLabelled duct => [new(ThingKind.Duct, duct.DuctId)],
        DuctPlugged duct => [new(ThingKind.Duct, duct.DuctId)],
        StringLeft duct => [new(ThingKind.Duct, duct.DuctId)],
        CablePulled cable => EachOfPull(cable),
        CableLabelled cable => [new(ThingKind.Cable, cable.CableId)],
        CoreSleeved cable => [new(ThingKind.Cable, cable.CableId)],
        BoxSealed box => [new(ThingKind.Box, box.BoxId)],
        JointMade joint => EachOfJoint(joint),
        ThingsJoined join => [new(join.Kind, join.KeptId), new(join.Kind, join.SameId)],
        PhotoTaken photo => [new(photo.Kind, photo.ThingId)],
        _ => CircuitOf(fact) is { } circuit ? [new(ThingKind.Circuit, circuit)] : [],
    };

    private static string? CircuitOf(IFact fact) => fact switch
    {
        CircuitDesigned it => it.CircuitId,
        FittingFixed it => it.CircuitId,
        DriverConnected it => it.CircuitId,
        CircuitEnergised it => it.CircuitId,
        CircuitHandedOver it => it.CircuitId,
        FaultReported it => it.CircuitId,
        RepairMade it => it.CircuitId,
        ReadingTaken it => it.CircuitId,
        TestMade it => it.CircuitId,
        _ => null,
    };

    private static IEnumerable<ThingRef> EachOfPull(CablePulled cable)
    {
        yield return new(ThingKind.Cable, cable.CableId);
        foreach (var duct in cable.DuctIds) yield return new(ThingKind.Duct, duct);
        foreach (var core in cable.Cores)
            if (core.CircuitId is { } circuit) yield return new(ThingKind.Circuit, circuit);
    }

    private static IEnumerable<ThingRef> EachOfJoint(JointMade joint)
    {
        yield return new(ThingKind.Box, joint.BoxId);
        yield return new(ThingKind.Circuit, joint.CircuitId);
        foreach (var connector in joint.Connectors)
            foreach (var conductor in connector.Conductors)
                if (conductor.CableId is { } cable) yield return new(ThingKind.Cable, cable);
    }

    private static List<(ThingRef From, ThingRef To)> OfPull(CablePulled pull)
    {
        var edges = new List<(ThingRef, ThingRef)>(pull.DuctIds.Length + 2);
        var cable = new ThingRef(ThingKind.Cable, pull.CableId);
        foreach (var duct in pull.DuctIds.Distinct(StringComparer.Ordinal))
            edges.Add((new(ThingKind.Duct, duct), cable));
        foreach (var circuit in pull.Cores.Select(core => core.CircuitId).Distinct(StringComparer.Ordinal))
            if (circuit is not null) edges.Add((cable, new(ThingKind.Circuit, circuit)));
        return edges;
    }

    private static List<(ThingRef From, ThingRef To)> OfDesign(CircuitDesigned design)
    {
        var edges = new List<(ThingRef, ThingRef)>();
        var circuit = new ThingRef(ThingKind.Circuit, design.CircuitId);
        foreach (var cable in design.Runs.Select(run => run.CableId).Distinct(StringComparer.Ordinal))
            if (cable is not null) edges.Add((new(ThingKind.Cable, cable), circuit));
        foreach (var box in BoxesOf(design)) edges.Add((new(ThingKind.Box, box), circuit));
        return edges;
    }

    /// <summary>
    /// The boxes that a design's runs name: ends that are neither the driver nor one of its fittings.
    /// </summary>
    public static IReadOnlyList<string> BoxesOf(CircuitDesigned design)
    {
        if (design.Runs.Length == 0) return [];
        var fittings = design.Fittings.Select(fitting => fitting.FittingId).ToHashSet(StringComparer.Ordinal);
        return
        [
            .. design.Runs.SelectMany(run => new[] { run.From, run.To })
                .Where(end => end != DriverEnd && !fittings.Contains(end))
                .Distinct(StringComparer.Ordinal),
        ];
    }

    private static List<(ThingRef From, ThingRef To)> OfJoint(JointMade joint) =>
        [(new(ThingKind.Box, joint.BoxId), new(ThingKind.Circuit, joint.CircuitId))];
}
