using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;

namespace FleetLight.Record.Works;

/// <summary>
/// The works in memory: give it facts and it gives the state of every thing that they touch, with findings, as the service
/// would work them out of the same facts. For whoever holds a site's facts and has no database: a crew's device offline,
/// a reader of an export, a test.
/// </summary>
/// <remarks>
/// <para>Use: <c>var works = new MemoryWorks(); works.Take(facts); works.CircuitOf("k1")</c>. Facts may come in any order, in
/// any batches, any number of times. <see cref="Take(IEnumerable{RecordedFact})"/> answers whose state may be another now.
/// Handing in many facts at once is much cheaper than one by one: each thing is folded once a batch.</para>
/// <para>What a device recorded itself and the service has not taken yet is handed in like any other fact, with its own
/// clock's time as <see cref="FactOrigin.HappenedAt"/> and <see cref="FactOrigin.RecordedAt"/>. When the same fact comes back from
/// the service with another origin (its time corrected), it takes the place of the device's own. A fact that the service
/// refused is taken out again with <see cref="Drop"/>.</para>
/// <para>Sites, ducts, cables and boxes are folded as facts come; a circuit is judged when it is asked for, and what would
/// explain its readings, the dearest part, is worked out for <see cref="CircuitOf"/> only. States are remembered until a
/// fact or <see cref="Judging"/> changes them. One difference from the service: everything is judged by the version of the models
/// that runs here, while the service lets stand what an earlier version said.</para>
/// <para>Not safe for several threads at once.</para>
/// </remarks>
public class MemoryWorks : IWorks
{
    private readonly Dictionary<string, RecordedFact> facts = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<RecordedFact>> corrections = new(StringComparer.Ordinal);
    private readonly Dictionary<ThingRef, ThingFile> files = [];
    private readonly MemoryLinks links = new();
    private readonly MemoryReadings readings = new();
    private readonly MemoryStates states = new();

    /// <summary>How circuits are judged; the stated defaults until it is set. Setting it judges all circuits again.</summary>
    public Judging Judging
    {
        get;
        set
        {
            field = value;
            states.ForgetCircuits();
        }
    } = Judging.Default;

    /// <summary>Every fact that was taken, each once, in no order.</summary>
    public IReadOnlyCollection<RecordedFact> Facts => facts.Values;

    /// <summary>Every thing that has a state, in no order.</summary>
    public IEnumerable<ThingRef> Things => states.Things;

    /// <summary>The files of all things that facts touch, in no order.</summary>
    public IEnumerable<ThingFile> Files => files.Values;

    /// <summary>The fact of that name, where it was taken.</summary>
    /// <param name="key">The fact, <c>source#id</c> (see <see cref="FactKey"/>).</param>
    public RecordedFact? FactOf(string key) => facts.GetValueOrDefault(key);

    /// <summary>The corrections that are known of a fact, in no order; whether the fact itself is known or not.</summary>
    /// <param name="key">The fact, <c>source#id</c>.</param>
    public IReadOnlyList<RecordedFact> CorrectionsOf(string key) => corrections.GetValueOrDefault(key) ?? [];

    /// <summary>A fact and what is left of it after its corrections; none where it was not taken.</summary>
    /// <param name="key">The fact, <c>source#id</c>.</param>
    public EffectiveFact? EffectiveOf(string key) =>
        FactOf(key) is { } fact ? EffectiveFacts.Apply(fact, CorrectionsOf(key), new List<string>()) : null;

    /// <summary>Takes facts and folds again what they reach.</summary>
    /// <param name="batch">Facts in any order; those that are known already change nothing.</param>
    /// <returns>The things whose state may have changed.</returns>
    public IReadOnlyCollection<ThingRef> Take(IEnumerable<RecordedFact> batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        var changed = new HashSet<ThingRef>();
        var leavesTraces = false;
        foreach (var fact in batch)
        {
            var key = FactKey.Of(fact.Of);
            var known = facts.GetValueOrDefault(key);
            if (known?.Of == fact.Of) continue;
            facts[key] = fact;
            if (known is not null && !SaysOfTheSame(known.Data, fact.Data)) leavesTraces = true;
            if (known is not null) TakeOutOfFiles(known, changed);
            Keep(fact, changed);
        }

        return leavesTraces ? Again() : FoldAgain(changed);
    }

    /// <summary>Takes a fact out again, as if it had never been taken: one that the service refused.</summary>
    /// <param name="key">The fact, <c>source#id</c>.</param>
    /// <returns>The things whose state may have changed; those of which nothing is known any more among them.</returns>
    public IReadOnlyCollection<ThingRef> Drop(string key) => facts.Remove(key) ? Again() : [];

    /// <summary>The works as they stood: only what had happened by a time, as far as it was known by a time.</summary>
    /// <param name="happenedBy">Facts that happened later are left out; none for all.</param>
    /// <param name="knownBy">Facts that were recorded later are left out; none for all.</param>
    public MemoryWorks AsOf(DateTimeOffset? happenedBy, DateTimeOffset? knownBy)
    {
        var then = new MemoryWorks { Judging = Judging };
        then.Take(facts.Values.Where(fact => ThingFile.Stands(fact, happenedBy, knownBy)));
        return then;
    }

    /// <summary>The state of a circuit, with what would explain its readings; none where no fact touches it.</summary>
    public CircuitView? CircuitOf(string id) => states.CircuitOf(id, explained: true, Judge);

    /// <summary>The state of a circuit without explanations, which is much cheaper: for lists and findings.</summary>
    public CircuitView? CircuitLineOf(string id) => states.CircuitOf(id, explained: false, Judge);

    /// <summary>
    /// The same in small steps, for whoever must not be kept from other work meanwhile. Facts that are taken while the
    /// steps are gone through are not in it.
    /// </summary>
    /// <returns>Null for every step but the last, which is the state; that is null too where no fact touches it.</returns>
    public IEnumerable<CircuitView?> CircuitLineInSteps(string id)
    {
        if (!states.Has(new(ThingKind.Circuit, id)) || states.KnowsLineOf(id)) return [CircuitLineOf(id)];
        var basis = states.BasisOf(id, Basis);
        return states.Remembering(
            id, basis, CircuitJudge.LineInSteps(basis, Kept(readings.WindowOf(id)), Kept(readings.HistoryOf(id))));
    }

    /// <summary>What follows for a circuit from all facts but its readings; none where no fact touches it.</summary>
    public CircuitBasis? BasisOf(string id) => states.Has(new(ThingKind.Circuit, id)) ? states.BasisOf(id, Basis) : null;

    /// <summary>The readings of a circuit that count, newest first.</summary>
    public IEnumerable<ReadingEntry> ReadingsOf(string circuitId) => readings.Counting(circuitId);

    /// <summary>The newest readings of a circuit, as it is judged by them.</summary>
    public ReadingWindow WindowOf(string circuitId) => readings.WindowOf(circuitId);

    /// <summary>The readings of a circuit over months.</summary>
    public ReadingHistory HistoryOf(string circuitId) => readings.HistoryOf(circuitId);

    /// <summary>The state of any thing; of a circuit without explanations.</summary>
    public ThingView? ViewOf(ThingRef thing) =>
        thing.Kind == ThingKind.Circuit ? CircuitLineOf(thing.Id) : states.Of(thing);

    /// <summary>The states of a site's things (circuits without explanations) and of the site, by kind and id.</summary>
    public IReadOnlyList<ThingView> ViewsOfSite(string siteId) =>
    [
        .. Things.OrderBy(thing => thing.Kind).ThenBy(thing => thing.Id, StringComparer.Ordinal)
            .Select(ViewOf).OfType<ThingView>()
            .Where(view => view.SiteId == siteId),
    ];

    /// <summary>What the rules find on a site: on it and on all its things.</summary>
    public IReadOnlyList<Finding> FindingsOfSite(string siteId) => [.. ViewsOfSite(siteId).SelectMany(view => view.Findings)];

    /// <inheritdoc/>
    public ThingFile FileOf(ThingRef thing) => files.GetValueOrDefault(thing) ?? ThingFile.Empty(thing.Kind, thing.Id);

    /// <inheritdoc/>
    public IReadOnlyCollection<ThingRef> Linked(LinkAsk ask) => links.Of(ask);

    /// <inheritdoc/>
    public SiteView? SiteOf(string id) => states.Of(new(ThingKind.Site, id)) as SiteView;

    /// <inheritdoc/>
    public CableView? CableOf(string id) => states.Of(new(ThingKind.Cable, id)) as CableView;

    /// <inheritdoc/>
    public DuctView? DuctOf(string id) => states.Of(new(ThingKind.Duct, id)) as DuctView;

    /// <inheritdoc/>
    public BoxView? BoxOf(string id) => states.Of(new(ThingKind.Box, id)) as BoxView;

    /// <summary>
    /// A basis, window or history that is kept between facts, as it comes back: whoever keeps them as documents gives what
    /// reading them again gives.
    /// </summary>
    protected virtual T Kept<T>(T document) => document;

    private void Keep(RecordedFact fact, HashSet<ThingRef> changed)
    {
        if (fact.Data is not FactCorrected)
        {
            KeepFact(fact, changed);
            return;
        }

        var key = EffectiveFacts.TargetOf(fact);
        if (!corrections.TryGetValue(key, out var known)) corrections[key] = known = [];
        known.Add(fact);
        if (!facts.TryGetValue(key, out var target)) return;
        if (target.Data is ReadingTaken) KeepReading(target, changed);
        KeepCorrected(target, changed);
    }

    private void KeepFact(RecordedFact fact, HashSet<ThingRef> changed)
    {
        if (fact.Data is ReadingTaken) KeepReading(fact, changed);
        else
        {
            Put(fact, Routing.Touches(fact.Data), changed);
            links.Add(Routing.Edges(fact.Data));
        }

        KeepCorrected(fact, changed);
    }

    // A reading is kept beside the files until it is corrected: then it stands in files with its corrections, to be seen.
    private void KeepCorrected(RecordedFact target, HashSet<ThingRef> changed)
    {
        var known = CorrectionsOf(FactKey.Of(target.Of));
        if (known.Count == 0) return;
        IFact[] replacements = [.. known.Select(one => EffectiveFacts.Replacement((FactCorrected)one.Data)).OfType<IFact>()];
        var things = Routing.TouchesOfCorrections(target.Data, replacements);
        foreach (var fact in known.Prepend(target)) Put(fact, things, changed);
        foreach (var replacement in replacements) links.Add(Routing.Edges(replacement));
    }

    private void Put(RecordedFact fact, IReadOnlyList<ThingRef> things, HashSet<ThingRef> changed)
    {
        foreach (var thing in things)
        {
            files[thing] = FileOf(thing).With(fact);
            changed.Add(thing);
        }
    }

    private void KeepReading(RecordedFact fact, HashSet<ThingRef> changed)
    {
        var key = FactKey.Of(fact.Of);
        foreach (var thing in Routing.Touches(fact.Data)) Read(thing.Id);
        if (readings.Remove(key) is { } before) Read(before);
        if (ReadingEntry.Of(EffectiveFacts.Apply(fact, CorrectionsOf(key), new List<string>())) is not { } entry) return;
        readings.Add(key, entry);
        Read(entry.CircuitId);

        // A circuit that was only read is judged again; nothing leans on that.
        void Read(string circuitId) => changed.Add(new(ThingKind.Circuit, circuitId));
    }

    // A fact that comes with another origin has another place in the order of the files that hold it.
    private void TakeOutOfFiles(RecordedFact fact, HashSet<ThingRef> changed)
    {
        var replacements = CorrectionsOf(FactKey.Of(fact.Of)).Select(one => EffectiveFacts.Replacement((FactCorrected)one.Data));
        foreach (var thing in Routing.TouchesOfCorrections(fact.Data, replacements.OfType<IFact>()))
        {
            files[thing] = FileOf(thing).Without(fact);
            changed.Add(thing);
        }
    }

    // Where that is not so, a file, a link or a thing may be left of what it said before.
    private static bool SaysOfTheSame(IFact one, IFact other) =>
        one is not FactCorrected && one.GetType() == other.GetType()
        && Routing.Touches(one).SequenceEqual(Routing.Touches(other)) && Routing.Edges(one).SequenceEqual(Routing.Edges(other));

    private HashSet<ThingRef> Again()
    {
        HashSet<ThingRef> before = [.. Things];
        RecordedFact[] all = [.. facts.Values];
        facts.Clear();
        corrections.Clear();
        files.Clear();
        links.Clear();
        readings.Clear();
        states.Clear();
        Take(all);
        before.UnionWith(Things);
        return before;
    }

    private List<ThingRef> FoldAgain(HashSet<ThingRef> changed)
    {
        var reach = new Reach(changed);
        while (reach.Asks.Count > 0) reach.Answer([.. reach.Asks.Select(ask => (ask, links.Of(ask)))]);
        // Ducts look at sites and cables, so they are folded last.
        foreach (var thing in reach.Things.OrderBy(thing => thing.Kind == ThingKind.Duct)) states.Put(thing, Fold(thing));
        foreach (var id in reach.CircuitIds) states.Forget(id);
        return [.. reach.Things, .. reach.CircuitIds.Select(id => new ThingRef(ThingKind.Circuit, id))];
    }

    private ThingView Fold(ThingRef thing) => thing.Kind switch
    {
        ThingKind.Site => WorksFold.Site(this, thing.Id),
        ThingKind.Cable => WorksFold.Cable(this, thing.Id),
        ThingKind.Box => WorksFold.Box(this, thing.Id),
        _ => WorksFold.Duct(this, thing.Id),
    };

    private CircuitBasis Basis(string id) => Kept(WorksFold.Basis(this, id));

    private CircuitView Judge(string id, bool explained) => CircuitJudge.Judge(
        states.BasisOf(id, Basis), Kept(readings.WindowOf(id)), explains: explained, history: Kept(readings.HistoryOf(id)));
}
