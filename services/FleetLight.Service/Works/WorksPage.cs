using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Record.Works;
using FleetLight.Service.Circuits;
using FleetLight.Service.Judgement;
using FleetLight.Service.Store;
using JasperFx.Events;
using Marten;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>One page of one organisation's events on its way through the projection. It only carries: the core decides.</summary>
public sealed class WorksPage
{
    private readonly IDocumentOperations operations;
    private readonly string organisation;
    private readonly IReadOnlyList<IEvent> events;
    private readonly LinkRows links;
    private readonly StateRows rows;
    private readonly FileSet files;
    private readonly ReadingRows readings;
    private readonly Emission emission;
    private readonly NpgsqlDataSource database;
    private readonly BasisCache cache;
    private readonly WorksWatch watch;

    /// <summary>Takes a page of events of one organisation, in the order of the store.</summary>
    public WorksPage(
        IDocumentOperations operations, string organisation, IReadOnlyList<IEvent> events, NpgsqlDataSource database, BasisCache cache, WorksWatch watch)
    {
        this.operations = operations;
        this.organisation = organisation;
        this.events = events;
        this.database = database;
        this.cache = cache;
        this.watch = watch;
        links = new LinkRows(database, organisation);
        rows = new StateRows(database, organisation);
        files = new FileSet(rows);
        readings = new ReadingRows(database, organisation);
        emission = new Emission(operations, organisation, events[0].Sequence, events[^1].Sequence, database, watch);
    }

    /// <summary>Number of events.</summary>
    public int Events => events.Count;

    /// <summary>When the oldest of the events was recorded.</summary>
    public DateTimeOffset OldestAt => events[0].Timestamp;

    /// <summary>When the newest was known: alerts raised by this page are raised as of then.</summary>
    public DateTimeOffset KnownAt => events.Max(each => each.Timestamp);

    /// <summary>Runs the page.</summary>
    public async Task RunAsync(CancellationToken cancel)
    {
        await emission.BeginAsync(cancel);
        var facts = new Dictionary<Guid, RecordedFact>(events.Count);
        foreach (var each in events)
        {
            if (each.Data is IKept kept) facts[each.Id] = new RecordedFact(kept.Of, kept.Fact);
        }

        var corrections = new CorrectionDesk(operations, organisation, database);
        var pairs = await corrections.PairAsync(facts, events[^1].Sequence, cancel);
        await FileAsync(facts, pairs, cancel);
        links.Save(operations);

        var states = new StateSet(rows, links, files, emission, Brought());
        var again = events.Select(each => each.Data).OfType<CircuitsToJudgeAgain>().SelectMany(each => each.CircuitIds);
        string[] circuits = [.. (await states.FoldAsync(files.Changed, cancel)).Union(again, StringComparer.Ordinal)];
        readings.Apply(operations, facts, pairs, files);
        await new CircuitDesk(operations, database, organisation, rows, states, files, readings, emission, cache, watch.Metrics).RunAsync(circuits, cancel);
        rows.Save(operations);

        await emission.CompleteAsync(events, KnownAt, cancel);
    }

    // The settings of judging that the page brings; none where it brings none.
    private Judging? Brought()
    {
        if (events.Select(each => each.Data).OfType<JudgingSet>().LastOrDefault() is not { } set) return null;
        var judging = new Judging(set.Version, set.Settings);
        rows.Keep(StateKinds.Judging, StateKinds.Settings, null, judging);
        return judging;
    }

    private async Task FileAsync(Dictionary<Guid, RecordedFact> facts, IReadOnlyList<CorrectedPair> pairs, CancellationToken cancel)
    {
        var wanted = new List<(ThingRef Thing, RecordedFact Fact)>();
        foreach (var fact in facts.Values)
        {
            links.Add(Routing.Edges(fact.Data));
            if (fact.Data is ReadingTaken or FactCorrected) continue;
            foreach (var thing in Routing.Touches(fact.Data)) wanted.Add((thing, fact));
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
        var key = FactKey.Of(target.Of);
        RecordedFact[] corrections =
        [
            .. Routing.Touches(target.Data).SelectMany(thing => files.Of(thing).Facts)
                .Where(fact => fact.Data is FactCorrected && EffectiveFacts.TargetOf(fact) == key)
                .Concat(pairs.Select(pair => pair.Correction))
                .DistinctBy(fact => FactKey.Of(fact.Of)),
        ];
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
