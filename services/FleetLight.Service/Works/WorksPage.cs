using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;
using FleetLight.Record.Corrections;
using FleetLight.Record.Works;
using FleetLight.Service.FactLists;
using FleetLight.Service.Judgement;
using FleetLight.Service.Photos;
using FleetLight.Service.Sync;
using JasperFx.Events;
using Marten;

namespace FleetLight.Service.Works;

/// <summary>
/// One page of one organisation's events on its way through the projection. It only carries: the core decides. Nothing is
/// written before <see cref="Save"/>.
/// </summary>
public sealed class WorksPage
{
    private readonly PageWrites writes = new();
    private readonly PageParts parts;
    private readonly IDocumentOperations operations;
    private readonly string organisation;
    private readonly IReadOnlyList<IEvent> events;
    private readonly IReadOnlyList<PageUnit> units;
    private readonly SetAsides asides;
    private readonly List<(Guid Id, Guid? EventId, ThingRef? Thing)> open;
    private readonly LinkRows links;
    private readonly StateRows rows;
    private readonly FileSet files;
    private readonly ReadingRows readings;
    private readonly Emission emission;

    /// <summary>Takes a page of events of one organisation, in the order of the store.</summary>
    /// <param name="parts">What every page uses.</param>
    /// <param name="operations">What the page is saved with at last; until then it is only read.</param>
    /// <param name="organisation">The organisation.</param>
    /// <param name="events">All events of the page.</param>
    /// <param name="units">What is taken in: these events, or some of them, and what was set aside before.</param>
    /// <param name="asides">What is left out.</param>
    /// <param name="open">What earlier pages set aside.</param>
    public WorksPage(
        PageParts parts, IDocumentOperations operations, string organisation, IReadOnlyList<IEvent> events, IReadOnlyList<PageUnit> units,
        SetAsides asides, List<(Guid Id, Guid? EventId, ThingRef? Thing)> open)
    {
        this.parts = parts;
        this.operations = operations;
        this.organisation = organisation;
        this.events = events;
        this.units = units;
        this.asides = asides;
        this.open = open;
        links = new LinkRows(parts.Database, organisation);
        rows = new StateRows(parts.Database, organisation);
        files = new FileSet(rows);
        readings = new ReadingRows(parts.Database, organisation);
        emission = new Emission(operations, writes, organisation, events[0].Sequence, events[^1].Sequence, parts);
    }

    /// <summary>When the oldest of the events was recorded.</summary>
    public DateTimeOffset OldestAt => events[0].Timestamp;

    /// <summary>When the newest was known: alerts raised by this page are raised as of then.</summary>
    public DateTimeOffset KnownAt => events.Max(each => each.Timestamp);

    /// <summary>Works the page out.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        await emission.BeginAsync(cancel);
        var facts = new Dictionary<Guid, RecordedFact>(units.Count);
        foreach (var unit in units)
        {
            if (unit.Fact is { } fact) facts[unit.Id] = fact;
        }

        var corrections = new CorrectionDesk(operations, writes, organisation, parts.Database);
        var pairs = await corrections.PairAsync(facts, events[^1].Sequence, cancel);
        await FileAsync(facts, pairs, cancel);
        links.Save(writes);

        IEvent[] taken = [.. units.Select(unit => unit.Event).OfType<IEvent>()];
        var states = new StateSet(rows, links, files, emission, Brought(taken), parts.Folds, asides.Things);
        var again = taken.Select(each => each.Data).OfType<CircuitsToJudgeAgain>().SelectMany(each => each.CircuitIds)
            .Concat(await FoldedMeanwhileAsync(taken, cancel));
        ThingRef[] changed = [.. files.Changed.Union(units.Select(unit => unit.Thing).OfType<ThingRef>())];
        string[] circuits = [.. (await states.FoldAsync(changed, cancel)).Union(again, StringComparer.Ordinal)];
        readings.Apply(writes, facts, pairs, files);
        await new FactRows(parts.Database, organisation, links, files, events[^1].Sequence)
            .RunAsync(writes, facts, events.ToDictionary(each => each.Id, each => each.Sequence), pairs, cancel);
        PhotoRows.Apply(writes, organisation, facts, pairs, files);
        var seen = circuits.Concat(readings.Circuits).ToHashSet(StringComparer.Ordinal);
        // The row of a circuit that was set aside knows nothing of the facts since, and nothing of the readings.
        string[] stale =
        [
            .. open.Where(row => row.EventId is null && row.Thing is { Kind: ThingKind.Circuit } thing && seen.Contains(thing.Id))
                .Select(row => row.Thing!.Id),
        ];
        readings.Refill(stale);
        circuits = [.. circuits.Union(stale, StringComparer.Ordinal)];
        await new CircuitDesk(writes, parts, organisation, rows, states, files, readings, emission, asides.Things).RunAsync(circuits, cancel);
        rows.Save(writes);

        await emission.CompleteAsync(taken, KnownAt, cancel);
        var folded = states.Folded.Concat(seen.Select(id => new ThingRef(ThingKind.Circuit, id))).Except(asides.Things.Keys).ToHashSet();
        var known = facts.Keys.Concat(pairs.Select(pair => pair.TargetEventId)).ToHashSet();
        var takenIn = open.Where(row => row.EventId is { } id ? known.Contains(id) : row.Thing is { } thing && folded.Contains(thing)).Select(row => row.Id);
        var readAgain = units.Where(unit => unit.Event is null && unit.Fact is not null).Select(unit => unit.Id);
        SetAsideRows.Save(writes, organisation, asides, takenIn.Union(readAgain), KnownAt);
    }

    /// <summary>Writes what was worked out.</summary>
    public void Save(IDocumentOperations target) => writes.Save(target);

    /// <summary>Tells what follows from it and was not told before.</summary>
    public void TellOf(Telling telling) => writes.TellOf(telling);

    // The settings of judging that the page brings; none where it brings none.
    private Judging? Brought(IEvent[] taken)
    {
        if (taken.Select(each => each.Data).OfType<JudgingSet>().LastOrDefault() is not { } set) return null;
        var judging = new Judging(set.Version, set.Settings);
        rows.Keep(StateKinds.Judging, StateKinds.Settings, null, judging);
        return judging;
    }

    // Circuits that were folded between the setting and its page, by the settings before: nobody knew of them to ask for them.
    private async Task<IEnumerable<string>> FoldedMeanwhileAsync(IEvent[] taken, CancellationToken cancel)
    {
        var circuits = new HashSet<string>(StringComparer.Ordinal);
        foreach (var set in taken)
        {
            if (set.Data is JudgingSet { KnownThrough: { } through })
                circuits.UnionWith(await ChangeFeed.CircuitsBetweenAsync(parts.Database, organisation, through, set.Sequence, cancel));
        }

        return circuits;
    }

    private async Task FileAsync(Dictionary<Guid, RecordedFact> facts, IReadOnlyList<CorrectedPair> pairs, CancellationToken cancel)
    {
        var wanted = new List<(ThingRef Thing, RecordedFact Fact)>();
        foreach (var (id, fact) in facts)
        {
            try
            {
                links.Add(Routing.Edges(fact.Data));
                if (fact.Data is ReadingTaken or FactCorrected) continue;
                foreach (var thing in Routing.Touches(fact.Data)) wanted.Add((thing, fact));
            }
            catch (Exception fault)
            {
                throw new FactException(id, fault);
            }
        }

        await files.LoadAsync(wanted.Select(each => each.Thing).Concat(pairs.SelectMany(pair => Routing.Touches(pair.Target.Data))), cancel);
        foreach (var corrected in pairs.GroupBy(pair => pair.TargetEventId)) wanted.AddRange(OfCorrected([.. corrected]));
        await files.LoadAsync(wanted.Select(each => each.Thing), cancel);
        foreach (var (thing, fact) in wanted) files.Add(thing, fact);
        files.Keep();
    }

    // A corrected fact and every correction of it stand in the files of all things that any of them touches: where a fact
    // was moved to another thing and back, the other's file must know that it went back. The files of the things that it
    // touched as sent hold all corrections that came before.
    private List<(ThingRef Thing, RecordedFact Fact)> OfCorrected(IReadOnlyList<CorrectedPair> pairs)
    {
        var target = pairs[0].Target;
        var corrections = CorrectedPair.AllOf(pairs, files);
        IFact[] replacements = [.. corrections.Select(fact => EffectiveFacts.Replacement((FactCorrected)fact.Data)).OfType<IFact>()];
        foreach (var replacement in replacements) links.Add(Routing.Edges(replacement));
        return
        [
            .. from thing in Routing.TouchesOfCorrections(target.Data, replacements)
               from fact in corrections.Prepend(target)
               select (thing, fact),
        ];
    }
}
