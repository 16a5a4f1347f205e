using System.Collections.Immutable;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Record.Files;

/// <summary>
/// The file of a thing: every fact about it but its readings, in the order in which they happened, each once. The list
/// stays short for ever, so a state is folded again from it whenever a fact is added, and a withdrawn fact uncovers
/// what it had covered.
/// </summary>
/// <param name="Kind">Kind of the thing.</param>
/// <param name="Id">The thing.</param>
/// <param name="Facts">Its facts by <see cref="FactOrder"/>.</param>
public sealed record ThingFile(ThingKind Kind, string Id, ImmutableArray<RecordedFact> Facts)
{
    /// <summary>A file without a fact.</summary>
    public static ThingFile Empty(ThingKind kind, string id) => new(kind, id, []);

    /// <summary>The file with the fact in its place; the same file where it holds the fact already.</summary>
    public ThingFile With(RecordedFact fact)
    {
        var at = Facts.BinarySearch(fact, FactOrder.Instance);
        return at >= 0 ? this : this with { Facts = Facts.Insert(~at, fact) };
    }

    /// <summary>The file without the fact; the same file where it does not hold it.</summary>
    public ThingFile Without(RecordedFact fact)
    {
        var at = Facts.BinarySearch(fact, FactOrder.Instance);
        return at < 0 ? this : this with { Facts = Facts.RemoveAt(at) };
    }

    /// <summary>The file as it stood: what had happened by a time, as far as it was known by a time.</summary>
    /// <param name="happenedBy">Facts that happened later are left out; none for all.</param>
    /// <param name="knownBy">Facts that were recorded later are left out; none for all.</param>
    /// <remarks>
    /// A correction and a joining of ids happen in the office; what they say holds for the past as well. So they are
    /// left out by when they were known only.
    /// </remarks>
    public ThingFile AsOf(DateTimeOffset? happenedBy, DateTimeOffset? knownBy) =>
        happenedBy is null && knownBy is null
            ? this
            : this with { Facts = Facts.RemoveAll(fact => !Stands(fact, happenedBy, knownBy)) };

    /// <summary>Whether a fact belongs to what had happened by a time, as far as it was known by a time.</summary>
    /// <param name="fact">The fact.</param>
    /// <param name="happenedBy">See <see cref="AsOf"/>.</param>
    /// <param name="knownBy">See <see cref="AsOf"/>.</param>
    public static bool Stands(RecordedFact fact, DateTimeOffset? happenedBy, DateTimeOffset? knownBy) =>
        (knownBy is null || fact.Of.RecordedAt <= knownBy)
        && (happenedBy is null || fact.Of.HappenedAt <= happenedBy || fact.Data is FactCorrected or ThingsJoined);
}
