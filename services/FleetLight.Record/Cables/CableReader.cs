using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Cables;

/// <summary>Reads what is known of a cable out of its history.</summary>
internal static class CableReader
{
    private static readonly RunEnd[] BothEnds = [RunEnd.Near, RunEnd.Far];

    public static CableState Read(ThingHistory history)
    {
        var pull = history.Newest<CablePulled>();
        var sleeves = Sleeves(history);
        CoreState[] cores = pull is null
            ? []
            : [.. pull.Data.Cores.Select(core => new CoreState(
                core.Core, core.Use, core.CircuitId,
                sleeves.TryGetValue(core.Core, out var known) ? known : []))];
        return new CableState
        {
            Subject = history.Subject,
            Pull = pull,
            Cores = cores,
            Labels = Labels(history),
            Joints = Joints(history),
            CircuitIds =
            [
                .. cores.Select(core => core.CircuitId).OfType<string>()
                    .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal),
            ],
            Holds = (joint, core) => joint.Connectors.Any(connector => connector.Conductors.Any(held =>
                held.Core == core && held.CableId is { } cable && history.Ids.Contains(cable))),
        };
    }

    /// <summary>Cores that sleeves or joints name and the newest pull does not.</summary>
    public static void AddStrangers(CableState state, ThingHistory history, List<string> contradictions)
    {
        if (state.Pull is null) return;
        var known = state.Cores.Select(core => core.Core).ToHashSet(StringComparer.Ordinal);
        foreach (var sleeve in history.All<CoreSleeved>())
            if (!known.Contains(sleeve.Data.Core))
                contradictions.Add(
                    $"Core '{sleeve.Data.Core}' was sleeved by {sleeve.Key}; the cable as pulled has no such core.");
        foreach (var joint in state.Joints)
        {
            var held = joint.Data.Connectors.SelectMany(connector => connector.Conductors)
                .Where(one => one.CableId is { } cable && history.Ids.Contains(cable))
                .Select(one => one.Core).Distinct(StringComparer.Ordinal);
            foreach (var core in held)
                if (!known.Contains(core))
                    contradictions.Add(
                        $"Joint {joint.Data.JointId} holds core '{core}' by {joint.Key}; the cable as pulled has "
                            + "no such core.");
        }
    }

    private static Dictionary<string, SortedDictionary<RunEnd, Counted<CoreSleeved>>> Sleeves(ThingHistory history)
    {
        var sleeves = new Dictionary<string, SortedDictionary<RunEnd, Counted<CoreSleeved>>>(StringComparer.Ordinal);
        foreach (var sleeve in history.All<CoreSleeved>())
        {
            if (!sleeves.TryGetValue(sleeve.Data.Core, out var ends)) sleeves[sleeve.Data.Core] = ends = [];
            ends[sleeve.Data.End] = sleeve;
        }

        return sleeves;
    }

    private static SortedDictionary<RunEnd, Counted<CableLabelled>> Labels(ThingHistory history)
    {
        var labels = new SortedDictionary<RunEnd, Counted<CableLabelled>>();
        foreach (var label in history.All<CableLabelled>())
            foreach (var end in label.Data.End is { } one ? [one] : BothEnds) labels[end] = label;
        return labels;
    }

    // A later fact about the same joint describes it as remade. The file holds only those that hold this cable: a joint
    // remade without it is still listed, until the fact that named it is withdrawn or replaced.
    private static List<Counted<JointMade>> Joints(ThingHistory history)
    {
        var newest = new Dictionary<string, Counted<JointMade>>(StringComparer.Ordinal);
        foreach (var joint in history.All<JointMade>()) newest[joint.Data.JointId] = joint;
        return [.. newest.Values.OrderBy(joint => joint.Data.JointId, StringComparer.Ordinal)];
    }
}
