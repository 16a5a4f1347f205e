using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Works;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.FactLists;

/// <summary>Which facts are asked for.</summary>
/// <param name="List">The list, see <see cref="FactList"/>.</param>
/// <param name="Order">Their order.</param>
public sealed record FactWish(string List, FactListOrder Order)
{
    /// <summary>Only facts that name this site.</summary>
    public string? SiteId { get; init; }

    /// <summary>Only those of this device.</summary>
    public string? Source { get; init; }

    /// <summary>Only those of this type.</summary>
    public string? Type { get; init; }

    /// <summary>Only those that happened then or later.</summary>
    public DateTimeOffset? From { get; init; }

    /// <summary>Only those that happened before.</summary>
    public DateTimeOffset? To { get; init; }
}

/// <summary>Reads lists of facts, along an index in either order, and the facts themselves by their ids.</summary>
public sealed class FactQuery(NpgsqlDataSource database)
{
    /// <summary>The statement that finds facts by the ids of their events.</summary>
    public const string ById =
        $"""
        select e.id, e.type, e.data from unnest($2) as wanted(id) cross join lateral
        (select id, type, data from {Tables.Schema}.mt_events where tenant_id = $1 and id = wanted.id offset 0) as e
        """;

    private const string Table = "fl_fact";

    /// <summary>Which edition of the lists is in use; none while they do not hold yet what was recorded before them.</summary>
    public async Task<uint?> EditionAsync(CancellationToken cancel)
    {
        // A rebuild puts another table in the place of this one.
        await using var command = database.CreateCommand($"select to_regclass('{Table}')::oid from fl_facts_whole");
        return await command.ExecuteScalarAsync(cancel) as uint?;
    }

    /// <summary>The facts after a place, where to go on, and whether there are more.</summary>
    public async Task<(IReadOnlyList<FactView> Items, FactCursor Next, bool More)> PageAsync(
        string organisation, FactWish wish, FactCursor after, int most, CancellationToken cancel)
    {
        var places = await PlacesAsync(organisation, wish, after, most + 1, cancel);
        var more = places.Count > most;
        if (more) places.RemoveAt(most);
        if (places.Count == 0) return ([], after, false);
        var facts = await LoadAsync(organisation, [.. places.Select(place => place.EventId)], cancel);
        var corrections = await CorrectionsAsync(organisation, facts, cancel);
        FactView[] items =
        [
            // One of a type that only a newer node knows is left to that.
            .. from place in places
               where facts.ContainsKey(place.EventId)
               let fact = facts[place.EventId]
               let target = TargetIdOf(organisation, fact) ?? place.EventId
               select ListedFact.Of(fact, corrections.Targets.GetValueOrDefault(target), [.. corrections.Of[target]]),
        ];
        return (items, places[^1], more);
    }

    /// <summary>The facts of a list as they are kept, in the order of recording; of types that only a newer node knows none.</summary>
    /// <param name="organisation">The organisation.</param>
    /// <param name="list">The list, see <see cref="FactList"/>.</param>
    /// <param name="most">Most facts.</param>
    /// <param name="cancel">Ends it.</param>
    /// <returns>None where the list holds more.</returns>
    public async Task<IReadOnlyList<RecordedFact>?> WholeAsync(string organisation, string list, int most, CancellationToken cancel)
    {
        var places = await PlacesAsync(organisation, new FactWish(list, FactListOrder.Recorded), FactCursor.Start(FactListOrder.Recorded, 0), most + 1, cancel);
        if (places.Count > most) return null;
        var facts = await LoadAsync(organisation, [.. places.Select(place => place.EventId)], cancel);
        return [.. places.Where(place => facts.ContainsKey(place.EventId)).Select(place => facts[place.EventId])];
    }

    /// <summary>The statement of a page of places, with its values.</summary>
    public static (string Sql, object[] Values) Statement(string organisation, FactWish wish, FactCursor after, int most)
    {
        var values = new List<object> { organisation, wish.List };
        var isHappened = wish.Order == FactListOrder.Happened;
        var column = isHappened ? "happened_at" : "position";
        var where = "tenant_id = $1 and list = $2";
        if (after.Place != long.MinValue)
            where += $" and ({column}, event_id) > ({Value(isHappened ? TimeOf(after.Place) : after.Place)}, {Value(after.EventId)})";
        if (wish.SiteId is { } site) where += $" and site_id = {Value(site)}";
        if (wish.Source is { } source) where += $" and source = {Value(source)}";
        if (wish.Type is { } type) where += $" and type = {Value(type)}";
        if (wish.From is { } from) where += $" and happened_at >= {Value(from.ToUniversalTime())}";
        if (wish.To is { } to) where += $" and happened_at < {Value(to.ToUniversalTime())}";
        return ($"select event_id, position, happened_at from {Table} where {where} order by {column}, event_id limit {Value(most)}", [.. values]);

        string Value(object value)
        {
            values.Add(value);
            return $"${values.Count}";
        }
    }

    private async Task<List<FactCursor>> PlacesAsync(string organisation, FactWish wish, FactCursor after, int most, CancellationToken cancel)
    {
        var (sql, values) = Statement(organisation, wish, after, most);
        await using var command = database.CreateCommand(sql);
        foreach (var value in values) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var places = new List<FactCursor>();
        while (await reader.ReadAsync(cancel))
        {
            var place = wish.Order == FactListOrder.Happened ? PlaceOf(reader.GetFieldValue<DateTimeOffset>(2)) : reader.GetInt64(1);
            places.Add(after with { Place = place, EventId = reader.GetGuid(0) });
        }

        return places;
    }

    // The corrections of these facts, and where they are corrections themselves, their facts and the other corrections of these.
    private async Task<(Dictionary<Guid, RecordedFact> Targets, ILookup<Guid, RecordedFact> Of)> CorrectionsAsync(
        string organisation, Dictionary<Guid, RecordedFact> facts, CancellationToken cancel)
    {
        Guid[] targets = [.. facts.Select(pair => TargetIdOf(organisation, pair.Value) ?? pair.Key).Distinct()];
        var ids = new List<(Guid Target, Guid Correction)>();
        await using (var command = database.CreateCommand(
                         """
                         select c.target_id, c.correction_id from unnest($2) as wanted(id) cross join lateral
                         (select target_id, correction_id from fl_correction where tenant_id = $1 and target_id = wanted.id offset 0) as c
                         """))
        {
            command.Parameters.Add(new NpgsqlParameter { Value = organisation });
            command.Parameters.Add(new NpgsqlParameter { Value = targets });
            await using var reader = await command.ExecuteReaderAsync(cancel);
            while (await reader.ReadAsync(cancel)) ids.Add((reader.GetGuid(0), reader.GetGuid(1)));
        }

        var all = new Dictionary<Guid, RecordedFact>(facts);
        Guid[] wanted = [.. ids.Select(pair => pair.Correction).Concat(ids.Select(pair => pair.Target)).Where(id => !facts.ContainsKey(id)).Distinct()];
        if (wanted.Length > 0)
            foreach (var (id, fact) in await LoadAsync(organisation, wanted, cancel)) all[id] = fact;
        return (all, ids.Where(pair => all.ContainsKey(pair.Correction)).ToLookup(pair => pair.Target, pair => all[pair.Correction]));
    }

    private async Task<Dictionary<Guid, RecordedFact>> LoadAsync(string organisation, Guid[] ids, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(ById);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = ids });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var facts = new Dictionary<Guid, RecordedFact>(ids.Length);
        while (await reader.ReadAsync(cancel))
        {
            if (FactTypes.Find(reader.GetString(1)) is not { } type) continue;
            var kept = (IKept)JsonSerializer.Deserialize(reader.GetString(2), typeof(Kept<>).MakeGenericType(type), WireJson.Lenient)!;
            facts[reader.GetGuid(0)] = new RecordedFact(kept.Of, kept.Fact);
        }

        return facts;
    }

    private static Guid? TargetIdOf(string organisation, RecordedFact fact) => fact.Data is FactCorrected correction
        ? EventIds.OfFact(organisation, correction.TargetSource ?? fact.Of.Source, correction.TargetId)
        : null;

    private static long PlaceOf(DateTimeOffset at) => (at - DateTimeOffset.UnixEpoch).Ticks / TimeSpan.TicksPerMicrosecond;

    private static DateTimeOffset TimeOf(long place) => DateTimeOffset.UnixEpoch.AddTicks(place * TimeSpan.TicksPerMicrosecond);
}
