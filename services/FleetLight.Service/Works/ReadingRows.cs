using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Service.Circuits;
using FleetLight.Service.Hosting;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>
/// Readings are kept aside in a table of their own, so that no state grows with them. A circuit's document holds the
/// newest few, and of the months before a thinned-out history; when a correction takes one of these away, the table says which
/// other one comes back.
/// </summary>
public sealed class ReadingRows(NpgsqlDataSource database, string organisation)
{
    private const string Table = "fl_reading";
    private const int PageLength = 200;
    private readonly Dictionary<string, List<ReadingEntry>> added = new(StringComparer.Ordinal);
    private readonly Dictionary<string, ReadingEntry?> corrected = new(StringComparer.Ordinal);
    private readonly HashSet<string> refilled = new(StringComparer.Ordinal);

    /// <summary>The circuits whose readings the page changed.</summary>
    public IEnumerable<string> Circuits => added.Keys.Union(refilled);

    /// <summary>The page's readings of a circuit, as <c>source#id</c>.</summary>
    public IEnumerable<string> FactsOf(string circuitId) => (added.GetValueOrDefault(circuitId) ?? []).Select(entry => entry.Fact);

    /// <summary>Takes in the page's readings and corrections of readings, and writes them with the page's other changes.</summary>
    public void Apply(
        PageWrites writes, Dictionary<Guid, RecordedFact> facts, IReadOnlyList<CorrectedPair> pairs, FileSet files)
    {
        var rows = new RowSet();
        foreach (var pair in pairs.Where(pair => pair.Target.Data is ReadingTaken).DistinctBy(pair => pair.TargetEventId))
        {
            var was = (ReadingTaken)pair.Target.Data;
            // A corrected reading stands in its circuit's file with all its corrections.
            var file = files.Of(new ThingRef(ThingKind.Circuit, was.CircuitId));
            var key = FactKey.Of(pair.Target.Of);
            var entry = ReadingEntry.Of(EffectiveFacts.Of(file).Facts.First(fact => FactKey.Of(fact.Original.Of) == key));
            corrected[key] = entry;
            // It may stand under the circuit that it named first, or under one that a correction named.
            foreach (var named in Named(file, key, was))
            {
                refilled.Add(named);
                rows.Remove(pair.TargetEventId, named, pair.Target.Of.HappenedAt);
            }

            rows.Add(pair.TargetEventId, entry ?? ReadingEntry.Of(pair.Target.Of, was)!, entry is not null);
        }

        foreach (var (id, fact) in facts)
        {
            if (fact.Data is not ReadingTaken reading || rows.Holds(id)) continue;
            var entry = ReadingEntry.Of(fact.Of, reading)!;
            rows.Add(id, entry, true);
            if (!added.TryGetValue(reading.CircuitId, out var list)) added[reading.CircuitId] = list = [];
            list.Add(entry);
        }

        rows.Save(writes, organisation);
    }

    /// <summary>The window of a circuit is filled again from all that is kept, whatever stands in its row.</summary>
    public void Refill(IEnumerable<string> circuits) => refilled.UnionWith(circuits);

    private static IEnumerable<string> Named(ThingFile file, string key, ReadingTaken was) => file.Facts
        .Where(fact => fact.Data is FactCorrected && EffectiveFacts.TargetOf(fact) == key)
        .Select(fact => EffectiveFacts.Replacement((FactCorrected)fact.Data)).OfType<ReadingTaken>()
        .Select(replaced => replaced.CircuitId).Append(was.CircuitId).Distinct(StringComparer.Ordinal);

    /// <summary>The window and the history of a circuit after this page.</summary>
    /// <param name="circuitId">The circuit.</param>
    /// <param name="before">What they were before; none of both where the circuit was not known.</param>
    /// <param name="cancel">Cancels.</param>
    public async Task<RecentReadings> RecentAsync(string circuitId, RecentReadings before, CancellationToken cancel)
    {
        var fresh = added.GetValueOrDefault(circuitId) ?? [];
        if (!refilled.Contains(circuitId) && before.History is not null) return before.With(fresh);
        return await RecentAsync(
            database, organisation, circuitId, countingOnly: true, null, null, corrected.Keys,
            [.. fresh, .. corrected.Values.OfType<ReadingEntry>().Where(entry => entry.CircuitId == circuitId)], cancel);
    }

    /// <summary>
    /// The window and the history of a circuit from all that is kept, read newest first and only as far as they reach.
    /// </summary>
    /// <param name="database">The database.</param>
    /// <param name="organisation">The organisation.</param>
    /// <param name="circuitId">The circuit.</param>
    /// <param name="countingOnly">Whether readings that were corrected are left out; otherwise they are taken as they were sent.</param>
    /// <param name="asOf">Taken by then; at any time if null.</param>
    /// <param name="knownBy">Known by then; at any time if null.</param>
    /// <param name="without">Facts that are left out.</param>
    /// <param name="with">Readings that count beside those kept.</param>
    /// <param name="cancel">Cancels.</param>
    public static async Task<RecentReadings> RecentAsync(
        NpgsqlDataSource database, string organisation, string circuitId, bool countingOnly, DateTimeOffset? asOf, DateTimeOffset? knownBy,
        IReadOnlyCollection<string> without, IReadOnlyCollection<ReadingEntry> with, CancellationToken cancel)
    {
        var window = with.ToList();
        var history = ReadingHistory.Of(with);
        var until = Utc(asOf);
        var isFirst = true;
        while (true)
        {
            var page = await ThenAsync(database, organisation, circuitId, countingOnly, until, isFirst, knownBy, cancel);
            foreach (var entry in page.Where(entry => !without.Contains(entry.Fact)))
            {
                // Readings of one time may stand in any order here: all of them are looked at.
                if (window.Count - with.Count <= ReadingWindow.Size || entry.HappenedAt == window[^1].HappenedAt) window.Add(entry);
                history = history.With(entry);
            }

            if (page.Count < PageLength) break;
            until = page[^1].HappenedAt;
            isFirst = false;
            if (window.Count - with.Count > ReadingWindow.Size && history.IsFullBefore(until)) break;
        }

        return new RecentReadings(ReadingWindow.Of(window), history);
    }

    /// <summary>A page of a circuit's readings that count, newest first, with one more than asked for.</summary>
    public static async Task<List<ReadingEntry>> PageAsync(
        NpgsqlDataSource database, string organisation, string circuitId, PageRequest page, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select entry from {Table} where tenant_id = $1 and circuit_id = $2 and counts
            order by happened_at desc, event_id desc offset $3 limit $4
            """);
        foreach (var value in (object[])[organisation, circuitId, page.Offset, page.Limit + 1])
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        return await ReadAsync(command, cancel);
    }

    // A page of readings, newest first, all of one time together.
    private static async Task<List<ReadingEntry>> ThenAsync(
        NpgsqlDataSource database, string organisation, string circuitId, bool countingOnly, DateTimeOffset until, bool including,
        DateTimeOffset? knownBy, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select entry from {Table} where tenant_id = $1 and circuit_id = $2 and happened_at {(including ? "<=" : "<")} $3 and recorded_at <= $4
            {(countingOnly ? "and counts" : "")} order by happened_at desc fetch first {PageLength} rows with ties
            """);
        foreach (var value in (object[])[organisation, circuitId, until, Utc(knownBy)])
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        return await ReadAsync(command, cancel);
    }

    private static DateTimeOffset Utc(DateTimeOffset? time) => (time ?? new DateTimeOffset(9000, 1, 1, 0, 0, 0, TimeSpan.Zero)).ToUniversalTime();

    private static async Task<List<ReadingEntry>> ReadAsync(NpgsqlCommand command, CancellationToken cancel)
    {
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var entries = new List<ReadingEntry>();
        while (await reader.ReadAsync(cancel))
            entries.Add(ReadingArrays.FromText(reader.GetString(0)));
        return entries;
    }

    // One statement for all rows of the page: a function call a row would cost more than everything else here.
    private sealed class RowSet
    {
        private readonly Dictionary<Guid, (ReadingEntry Entry, bool Counts)> rows = [];
        private readonly List<(Guid Id, string CircuitId, DateTimeOffset HappenedAt)> gone = [];

        public bool Holds(Guid id) => rows.ContainsKey(id);

        public void Add(Guid id, ReadingEntry entry, bool counts) => rows[id] = (entry, counts);

        public void Remove(Guid id, string circuitId, DateTimeOffset happenedAt) => gone.Add((id, circuitId, happenedAt.ToUniversalTime()));

        public void Save(PageWrites writes, string organisation)
        {
            foreach (var (id, circuitId, happenedAt) in gone)
            {
                writes.Sql(
                    $"delete from {Table} where tenant_id = ? and circuit_id = ? and happened_at = ? and event_id = ?",
                    organisation, circuitId, happenedAt, id);
            }

            if (rows.Count == 0) return;
            var entries = rows.Values.Select(row => row.Entry).ToArray();
            writes.Sql(
                $"""
                insert into {Table} (tenant_id, circuit_id, happened_at, event_id, recorded_at, counts, entry)
                select ?, r.* from unnest(?, ?, ?, ?, ?, ?) as r on conflict do nothing
                """,
                organisation,
                entries.Select(entry => entry.CircuitId).ToArray(),
                entries.Select(entry => entry.HappenedAt.ToUniversalTime()).ToArray(),
                rows.Keys.ToArray(),
                entries.Select(entry => entry.RecordedAt.ToUniversalTime()).ToArray(),
                rows.Values.Select(row => row.Counts).ToArray(),
                entries.Select(ReadingArrays.ToText).ToArray());
        }
    }
}
