using System.Globalization;
using FleetLight.Contracts;
using FleetLight.OpenData.Features;
using FleetLight.Record.Circuits;
using FleetLight.Service.Circuits;
using FleetLight.Service.Store;
using NetTopologySuite.Geometries;
using Npgsql;

namespace FleetLight.Service.OpenData;

/// <summary>
/// Readings out of the table in which they are kept aside, by circuit and time. There are many more of them than of all else, so they
/// are not written a second time; where they were taken is looked up among the features.
/// </summary>
public sealed class ReadingFeatures(NpgsqlDataSource database, string organisation) : IFeatureSource
{
    private const char Between = ' ';

    // Circuits that one answer looks into where only some of them may have readings that are asked for.
    private const int MostCircuits = 2_000;

    private readonly IndexedFeatures index = new(database, organisation);

    /// <inheritdoc/>
    public Task<IReadOnlyList<Keyed>> AfterAsync(FeatureQuestion question, string after, int most, CancellationToken cancel) =>
        WalkAsync(question, Key.Read(after), isBack: false, most, cancel);

    /// <inheritdoc/>
    public Task<IReadOnlyList<Keyed>> UntilAsync(FeatureQuestion question, string until, int most, CancellationToken cancel) =>
        WalkAsync(question, Key.Read(until), isBack: true, most, cancel);

    private async Task<IReadOnlyList<Keyed>> WalkAsync(FeatureQuestion question, Key key, bool isBack, int most, CancellationToken cancel)
    {
        var found = new List<(Key Key, ReadingEntry Entry)>();
        Key? looked = null;
        var comparison = isBack ? "<=" : ">";
        if (await CircuitsAsync(question, cancel) is { } circuits)
        {
            var tried = 0;
            foreach (var circuit in InOrder(circuits, key.Circuit, isBack))
            {
                var from = circuit == key.Circuit ? key : isBack ? Key.EndOf(circuit) : Key.StartOf(circuit);
                found.AddRange(await ReadAsync(
                    question, from, most - found.Count, $"circuit_id = $2 and (happened_at, event_id) {comparison} ($3, $4)", isBack, cancel));
                if (found.Count >= most) break;
                if (++tried < MostCircuits) continue;
                looked = isBack ? Key.StartOf(circuit) : Key.EndOf(circuit);
                break;
            }
        }
        else
        {
            found = await ReadAsync(question, key, most, $"(circuit_id, happened_at, event_id) {comparison} ($2, $3, $4)", isBack, cancel);
        }

        var rows = await PlacedAsync([.. found.Select(each => each.Entry)], found.ConvertAll(each => each.Key.Id.ToString("N")), cancel);
        IEnumerable<Keyed> keyed = found.Select((each, i) => new Keyed(each.Key.ToString(), rows[i]));
        return [.. looked is null ? keyed : keyed.Append(new Keyed(looked.ToString(), null))];
    }

    // The circuits from one on, the way that pages are turned.
    private static IEnumerable<string> InOrder(List<string> circuits, string from, bool isBack) => isBack
        ? circuits.OrderDescending(StringComparer.Ordinal).SkipWhile(id => string.CompareOrdinal(id, from) > 0)
        : circuits.Order(StringComparer.Ordinal).SkipWhile(id => string.CompareOrdinal(id, from) < 0);

    /// <inheritdoc/>
    public Task<bool> AreFewAsync(FeatureQuestion question, int bound, CancellationToken cancel) =>
        // Which readings may answer is only known by reading them.
        Task.FromResult(true);

    /// <inheritdoc/>
    public async Task<long?> CountAsync(FeatureQuestion question, int bound, CancellationToken cancel)
    {
        if (question.Test is not null || question.SiteId is not null) return null;
        await using var command = database.CreateCommand("select count(*) from (select 1 from fl_reading where tenant_id = $1 and counts limit $2) as found");
        foreach (var value in (object[])[organisation, bound + 1]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        var count = (long)(await command.ExecuteScalarAsync(cancel))!;
        return count > bound ? null : count;
    }

    /// <inheritdoc/>
    public async Task<FeatureRow?> FindAsync(FeatureKind kind, string id, CancellationToken cancel)
    {
        if (!Guid.TryParseExact(id, "N", out var eventId)) return null;
        // Under the circuit that it named first, or under one that a correction named.
        await using var command = database.CreateCommand(
            $"""
            with fact as (select data, id from {Tables.Schema}.mt_events where tenant_id = $1 and id = $2),
            named as (
              select data -> 'data' ->> 'circuitId' as circuit_id from fact
              union select e.data -> 'data' -> 'replacement' ->> 'circuitId' from fl_correction as c
                join {Tables.Schema}.mt_events as e on e.tenant_id = $1 and e.id = c.correction_id where c.tenant_id = $1 and c.target_id = $2)
            select r.entry from fact, named join fl_reading as r on r.tenant_id = $1 and r.circuit_id = named.circuit_id
            where r.happened_at between (fact.data -> 'of' ->> 'happenedAt')::timestamptz - interval '1 ms'
              and (fact.data -> 'of' ->> 'happenedAt')::timestamptz + interval '1 ms' and r.event_id = $2 and r.counts limit 1
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = eventId });
        if (await command.ExecuteScalarAsync(cancel) is not string entry) return null;
        return (await PlacedAsync([ReadingArrays.FromText(entry)], [id], cancel))[0];
    }

    // Circuits to which the question is bound; none where it is bound to none.
    private async Task<List<string>?> CircuitsAsync(FeatureQuestion question, CancellationToken cancel)
    {
        if (question.Bounds.Texts.TryGetValue("circuitId", out var circuit)) return [circuit];
        if (question.Bounds.Within is { } within) return await index.CircuitsReadWithinAsync(within, cancel);
        return question.SiteId is { } site ? await index.CircuitsOfAsync(site, cancel) : null;
    }

    private async Task<List<(Key Key, ReadingEntry Entry)>> ReadAsync(FeatureQuestion question, Key from, int most, string where, bool isBack, CancellationToken cancel)
    {
        await using var command = database.CreateCommand();
        foreach (var value in (object[])[organisation, from.Circuit, from.At, from.Id, most]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        if (question.Bounds.From is { } since) where += $" and happened_at >= {Add(since)}";
        // Times are compared in whole milliseconds.
        if (question.Bounds.To is { } to && to < DateTimeOffset.MaxValue.AddDays(-1)) where += $" and happened_at < {Add(to.AddMilliseconds(1))}";
        command.CommandText =
            $"""
            select circuit_id, happened_at, event_id, entry from fl_reading where tenant_id = $1 and counts and {where}
            order by {(isBack ? "circuit_id desc, happened_at desc, event_id desc" : "circuit_id, happened_at, event_id")} limit $5
            """;
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var found = new List<(Key, ReadingEntry)>();
        while (await reader.ReadAsync(cancel))
            found.Add((new Key(reader.GetString(0), reader.GetDateTime(1), reader.GetGuid(2)), ReadingArrays.FromText(reader.GetString(3))));
        return found;

        string Add(DateTimeOffset time)
        {
            command.Parameters.Add(new NpgsqlParameter { Value = time.ToUniversalTime() });
            return $"${command.Parameters.Count}";
        }
    }

    private async Task<IReadOnlyList<FeatureRow>> PlacedAsync(List<ReadingEntry> entries, List<string> ids, CancellationToken cancel)
    {
        if (entries.Count == 0) return [];
        var wanted = entries.Select(PlaceOf).Concat(entries.Select(entry => (FeatureKinds.Circuits.Id, entry.CircuitId))).ToHashSet();
        var points = await index.PointsAsync(wanted, cancel);
        return [.. entries.Select((entry, i) => FeatureMaker.Of(ids[i], entry, PointOf(entry)))];

        Point? PointOf(ReadingEntry entry)
        {
            if (!points.TryGetValue(PlaceOf(entry), out var at)) return null;
            // A box counts on the circuit's own site only: so what lies in a rectangle can be found.
            return entry.Place != ReadingPlaceKind.Box
                || (points.TryGetValue((FeatureKinds.Circuits.Id, entry.CircuitId), out var circuit) && circuit.SiteId == at.SiteId && at.SiteId is not null)
                ? at.Shape
                : null;
        }
    }

    private static (string Collection, string Id) PlaceOf(ReadingEntry entry) => entry.Place switch
    {
        ReadingPlaceKind.Driver => (FeatureKinds.Drivers.Id, entry.CircuitId),
        ReadingPlaceKind.Box => (FeatureKinds.Boxes.Id, entry.PlaceId ?? ""),
        _ => (FeatureKinds.Fittings.Id, FeatureMaker.FittingId(entry.CircuitId, entry.PlaceId ?? "")),
    };

    // Circuit, time and event: the order of the table.
    private sealed record Key(string Circuit, DateTime At, Guid Id)
    {
        public static Key Read(string text)
        {
            var parts = text.Split(Between);
            return parts.Length == 3 && long.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var ticks)
                && ticks <= DateTime.MaxValue.Ticks && Guid.TryParseExact(parts[2], "N", out var id)
                ? new Key(parts[0], new DateTime(ticks, DateTimeKind.Utc), id)
                : StartOf("");
        }

        public static Key StartOf(string circuit) => new(circuit, DateTime.UnixEpoch.AddYears(-900), Guid.Empty);

        public static Key EndOf(string circuit) => new(circuit, new DateTime(9000, 1, 1, 0, 0, 0, DateTimeKind.Utc), Guid.Empty);

        public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Circuit}{Between}{At.Ticks}{Between}{Id:N}");
    }
}
