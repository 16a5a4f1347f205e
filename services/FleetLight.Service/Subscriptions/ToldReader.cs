using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Alerts;
using FleetLight.Service.Alerts;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Subscriptions;

/// <summary>Something that is told, and its place.</summary>
/// <param name="Place">Its place.</param>
/// <param name="Event">What is told.</param>
public sealed record Told(StreamPlace Place, ToldEvent Event);

/// <summary>A stretch of what is told.</summary>
/// <param name="Items">What is told, in order.</param>
/// <param name="Next">Where to go on.</param>
/// <param name="More">Whether there is more already.</param>
public sealed record ToldPage(IReadOnlyList<Told> Items, StreamPlace Next, bool More);

/// <summary>
/// Reads what is told to an organisation, from the stored events and the change feed, as far as the projection has come. Nothing is
/// written for it beforehand: whoever is told keeps a place and reads on from there.
/// </summary>
public sealed class ToldReader(NpgsqlDataSource database)
{
    // So many events of the organisation are looked through at most for one stretch, however few of them are asked for.
    private const int Window = 20_000;

    // Alerts are chosen only once they are read: so many are read at once at least, however few are asked for, so that a choice
    // that hardly any alert meets does not read them one by one.
    private const int LeastRead = 500;

    /// <summary>Through which event everything has been told: the end of what can be read now.</summary>
    public async Task<StreamPlace> EndAsync(string organisation, CancellationToken cancel)
    {
        await using var command = database.CreateCommand($"select through from {Tables.Schema}.fl_emitted where tenant_id = $1");
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        return StreamPlace.EndOf(await command.ExecuteScalarAsync(cancel) as long? ?? 0);
    }

    /// <summary>What comes after a place, oldest first.</summary>
    public async Task<ToldPage> AfterAsync(string organisation, StreamFilter filter, StreamPlace after, int most, CancellationToken cancel)
    {
        var end = await EndAsync(organisation, cancel);
        if (end <= after) return new ToldPage([], after, false);
        var upTo = end.Position - after.Position > Window ? await WindowAsync(organisation, after, end, cancel) : end;
        var (events, lastEvent) = await EventsAsync(organisation, filter, after, upTo, most, cancel);
        var (changes, lastChange) = await ChangesAsync(organisation, filter, after, upTo, most, cancel);
        // Where one of the two was cut short, what the other has beyond that has to wait for it.
        foreach (var cut in (StreamPlace?[])[lastEvent, lastChange])
        {
            if (cut < upTo) upTo = cut.Value;
        }

        Told[] all = [.. events.Concat(changes).Where(each => each.Place <= upTo).OrderBy(each => each.Place)];
        return all.Length <= most
            ? new ToldPage(all, upTo, upTo < end)
            : new ToldPage(all[..most], all[most - 1].Place, true);
    }

    /// <summary>What is told at that very place; none where nothing is.</summary>
    public async Task<Told?> AtAsync(string organisation, StreamPlace place, CancellationToken cancel)
    {
        var everything = new StreamFilter();
        var before = place.Ordinal < 0 ? new StreamPlace(place.Position - 1, int.MaxValue) : place with { Ordinal = place.Ordinal - 1 };
        var (found, _) = place.Ordinal < 0
            ? await EventsAsync(organisation, everything, before, StreamPlace.EndOf(place.Position), 1, cancel)
            : await ChangesAsync(organisation, everything, before, StreamPlace.EndOf(place.Position), 1, cancel);
        return found.FirstOrDefault(told => told.Place == place);
    }

    // Through the last event of a window, along the index of the organisation's own events alone.
    private async Task<StreamPlace> WindowAsync(string organisation, StreamPlace after, StreamPlace end, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"select seq_id from {Tables.Schema}.mt_events where tenant_id = $1 and seq_id > $2 and seq_id <= $3 order by seq_id offset {Window} limit 1");
        foreach (var value in (object[])[organisation, after.Position, end.Position]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        return await command.ExecuteScalarAsync(cancel) is long last ? StreamPlace.EndOf(last) : end;
    }

    private async Task<(List<Told> Found, StreamPlace? Cut)> EventsAsync(
        string organisation, StreamFilter filter, StreamPlace after, StreamPlace upTo, int most, CancellationToken cancel)
    {
        string[] types =
        [
            .. filter.Tells(ToldKind.Facts) ? filter.Types ?? [.. FactTypes.All.Select(pair => pair.Key)] : [],
            .. filter.Tells(ToldKind.Alerts) ? (string[])[AlertEvents.Raised, AlertEvents.Cleared] : [],
        ];
        if (types.Length == 0) return ([], null);
        if (filter.Rules is not null || filter.Sites is not null) most = Math.Max(most, LeastRead);
        var rows = new List<(long Sequence, Guid Id, string Stream, string Type, string Data, DateTimeOffset At)>();
        await using (var command = database.CreateCommand(
                         $"""
                         select seq_id, id, stream_id, type, data, timestamp from {Tables.Schema}.mt_events
                         where tenant_id = $1 and seq_id > $2 and seq_id <= $3 and type = any($4)
                           and ($5::text[] is null or type like 'fleetlight.alert.%' or data -> 'data' ->> 'siteId' = any($5))
                         order by seq_id limit $6
                         """))
        {
            foreach (var value in (object?[])[organisation, after.Position, upTo.Position, types, filter.Sites, most])
                command.Parameters.Add(Parameter(value));
            await using var reader = await command.ExecuteReaderAsync(cancel);
            while (await reader.ReadAsync(cancel))
            {
                rows.Add((reader.GetInt64(0), reader.GetGuid(1), reader.GetString(2), reader.GetString(3), reader.GetString(4), reader.GetFieldValue<DateTimeOffset>(5)));
            }
        }

        var alerts = await AlertsAsync(organisation, [.. rows.Where(row => IsAlert(row.Type)).Select(row => row.Stream).Distinct()], upTo.Position, cancel);
        var found = new List<Told>();
        foreach (var row in rows)
        {
            var place = new StreamPlace(row.Sequence, -1);
            if (!IsAlert(row.Type)) found.Add(new Told(place, OfFact(place, row.Type, row.Data)));
            else if (alerts.TryGetValue(row.Sequence, out var alert) && Wants(filter, alert))
                found.Add(new Told(place, OfAlert(place, organisation, row.Id, row.Type, row.At, alert)));
        }

        return (found, rows.Count < most ? null : new StreamPlace(rows[^1].Sequence, -1));
    }

    // The alerts as they stood at each of their events.
    private async Task<Dictionary<long, AlertView>> AlertsAsync(string organisation, string[] streams, long through, CancellationToken cancel)
    {
        var stood = new Dictionary<long, AlertView>();
        if (streams.Length == 0) return stood;
        await using var command = database.CreateCommand(
            $"""
            select e.stream_id, e.seq_id, e.type, e.data from unnest($2) as wanted(stream) cross join lateral
            (select stream_id, seq_id, type, data from {Tables.Schema}.mt_events
             where tenant_id = $1 and stream_id = wanted.stream and seq_id <= $3 order by version offset 0) as e
            """);
        foreach (var value in (object[])[organisation, streams, through]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var latest = new Dictionary<string, AlertView>(StringComparer.Ordinal);
        while (await reader.ReadAsync(cancel))
        {
            var stream = reader.GetString(0);
            if (!AlertEvents.Names.TryGetValue(reader.GetString(2), out var type)) continue;
            var happened = (IAlertEvent)JsonSerializer.Deserialize(reader.GetString(3), type, WireJson.Lenient)!;
            if (AlertFold.Apply(latest.GetValueOrDefault(stream), happened) is { } view) stood[reader.GetInt64(1)] = latest[stream] = view;
        }

        return stood;
    }

    private async Task<(List<Told> Found, StreamPlace? Cut)> ChangesAsync(
        string organisation, StreamFilter filter, StreamPlace after, StreamPlace upTo, int most, CancellationToken cancel)
    {
        if (!filter.Tells(ToldKind.Changes)) return ([], null);
        await using var command = database.CreateCommand(
            $"""
            select position, ordinal, kind, thing_id, nullif(site_id, '') from {Tables.Schema}.fl_change
            where tenant_id = $1 and (position, ordinal) > ($2, $3) and position <= $4
              and ($5::text[] is null or kind = any($5)) and ($6::text[] is null or site_id = any($6))
            order by position, ordinal limit $7
            """);
        foreach (var value in (object?[])[organisation, after.Position, after.Ordinal, upTo.Position, filter.Changed, filter.Sites, most])
            command.Parameters.Add(Parameter(value));
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var found = new List<Told>();
        while (await reader.ReadAsync(cancel))
        {
            var place = new StreamPlace(reader.GetInt64(0), reader.GetInt32(1));
            found.Add(new Told(place, OfChange(place, organisation, reader.GetString(2), reader.GetString(3), reader.IsDBNull(4) ? null : reader.GetString(4))));
        }

        return (found, found.Count < most ? null : found[^1].Place);
    }

    // Of a list that is not given the server has to be told the type.
    private static NpgsqlParameter Parameter(object? value) => value is null
        ? new NpgsqlParameter { Value = DBNull.Value, NpgsqlDbType = NpgsqlTypes.NpgsqlDbType.Array | NpgsqlTypes.NpgsqlDbType.Text }
        : new NpgsqlParameter { Value = value };

    private static bool IsAlert(string type) => type is AlertEvents.Raised or AlertEvents.Cleared;

    private static bool Wants(StreamFilter filter, AlertView alert) =>
        (filter.Rules is null || filter.Rules.Contains(alert.Finding.Rule)) && (filter.Sites is null || filter.Sites.Contains(alert.SiteId));

    private static ToldEvent OfFact(StreamPlace place, string type, string data)
    {
        var kept = (IKept)JsonSerializer.Deserialize(data, typeof(Kept<>).MakeGenericType(FactTypes.Find(type)!), WireJson.Lenient)!;
        return new ToldEvent
        {
            Id = kept.Of.Id,
            Source = kept.Of.Source,
            Type = type,
            Subject = kept.Fact.SiteId,
            Time = kept.Of.DeviceTime,
            Cursor = place.ToString(),
            Runningnumber = kept.Of.RunningNumber,
            Happenedtime = kept.Of.HappenedAt,
            Recordedtime = kept.Of.RecordedAt,
            Data = JsonSerializer.SerializeToElement(kept.Fact, kept.Fact.GetType(), WireJson.Lenient),
        };
    }

    private static ToldEvent OfAlert(StreamPlace place, string organisation, Guid id, string type, DateTimeOffset at, AlertView alert) => new()
    {
        Id = id.ToString("N"),
        Source = SourceOf("alerts", organisation),
        Type = type,
        Subject = alert.Id,
        Time = at,
        Cursor = place.ToString(),
        Data = JsonSerializer.SerializeToElement(alert, WireJson.Lenient),
    };

    private static ToldEvent OfChange(StreamPlace place, string organisation, string kind, string id, string? siteId) => new()
    {
        Id = place.ToString(),
        Source = SourceOf("changes", organisation),
        Type = "fleetlight.thing.changed.v1",
        Subject = $"{kind}/{id}",
        Cursor = place.ToString(),
        Data = JsonSerializer.SerializeToElement(
            new ChangeView { Cursor = new Sync.FeedCursor(place.Position, place.Ordinal).ToString(), Kind = kind, Id = id, SiteId = siteId }, WireJson.Lenient),
    };

    // An organisation's name is of small letters, figures and hyphens; so is what others see of it here.
    private static string SourceOf(string what, string organisation) => $"urn:fleetlight:{what}:{organisation}";
}
