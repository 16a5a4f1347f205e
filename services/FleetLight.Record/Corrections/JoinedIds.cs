using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Corrections;

/// <summary>Ids that mean one thing, as far as the joinings that count say.</summary>
/// <param name="KeptId">The id that stays.</param>
/// <param name="Ids">All of them, the kept one among them, by the order of their characters.</param>
public sealed record JoinedIds(string KeptId, IReadOnlyList<string> Ids)
{
    /// <summary>
    /// The ids that mean the same thing as <paramref name="id"/>. Joinings are taken in the order of the facts; the
    /// newest says which id stays where two of them disagree.
    /// </summary>
    /// <param name="kind">Kind of the thing.</param>
    /// <param name="id">The thing.</param>
    /// <param name="facts">Facts that may hold joinings, in any order, doubles allowed.</param>
    public static JoinedIds Of(ThingKind kind, string id, IEnumerable<EffectiveFact> facts)
    {
        var joinings = facts
            .Where(fact => fact.CountingData is ThingsJoined joined && joined.Kind == kind)
            .OrderBy(fact => fact.Original, FactOrder.Instance);
        var stays = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var fact in joinings)
        {
            var joined = (ThingsJoined)fact.CountingData!;
            var kept = Find(stays, joined.KeptId);
            var same = Find(stays, joined.SameId);
            if (kept != same) stays[same] = kept;
            else if (joined.SameId == kept && joined.KeptId != kept) TurnRound(stays, kept, joined.KeptId);
        }

        var root = Find(stays, id);
        var ids = stays.Keys.Append(id).Append(root)
            .Where(one => Find(stays, one) == root)
            .Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal);
        return new(root, [.. ids]);
    }

    private static string Find(Dictionary<string, string> stays, string id)
    {
        while (stays.TryGetValue(id, out var next)) id = next;
        return id;
    }

    // The id that stayed until now is named as the second one: the other takes its place.
    private static void TurnRound(Dictionary<string, string> stays, string old, string kept)
    {
        stays.Remove(kept);
        stays[old] = kept;
    }
}
