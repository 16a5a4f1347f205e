using System.Collections.Concurrent;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Hosting;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.OpenData;

/// <summary>
/// Keeps the features of an organisation abreast of its states. Whoever asks has them brought up to the end of the change feed first;
/// nothing is done while nobody asks, and nothing on the way of a fact waits for it.
/// </summary>
public sealed class FeatureIndex(NpgsqlDataSource database, ILogger<FeatureIndex> log)
{
    private const int Step = 500;

    // Less than an answer may take, so that whoever waits is told when to come back.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(7);

    // Kinds in the order in which they are filled in: what others lean on first.
    private static readonly string[] Kinds = [StateKinds.Duct, StateKinds.Cable, StateKinds.Box, "circuit", "alert"];

    private readonly ConcurrentDictionary<string, Lazy<Task>> running = new(StringComparer.Ordinal);

    /// <summary>Brings the features up to the end of the feed. A problem where that takes longer than an answer may: it goes on meanwhile.</summary>
    public async Task<Problem?> CatchUpAsync(string organisation, CancellationToken cancel)
    {
        if (await IsAbreastAsync(organisation, cancel)) return null;
        var work = running.GetOrAdd(organisation, each => new Lazy<Task>(() => Task.Run(() => RunAsync(each), CancellationToken.None))).Value;
        try
        {
            await work.WaitAsync(Patience, cancel);
            return null;
        }
        catch (TimeoutException) when (!work.IsCompleted)
        {
            return Problems.Unavailable() with
            {
                Detail = "The open data of your organisation are being made for the first time, or anew.",
                Remedy = "Ask again after the time in Retry-After: the work goes on meanwhile.",
            };
        }
    }

    private async Task RunAsync(string organisation)
    {
        try
        {
            while (await StepAsync(organisation))
            {
                // Until nothing is left.
            }
        }
        catch (Exception fault) when (Poison.Is(fault, CancellationToken.None))
        {
            log.LogError(fault, "The open data of {Organisation} could not be brought up to date", organisation);
            throw;
        }
        finally
        {
            running.TryRemove(organisation, out _);
        }
    }

    private async Task<bool> IsAbreastAsync(string organisation, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            """
            select p.edition = 'fl_state'::regclass::oid::bigint and p.filling is null and not exists (
              select 1 from fleetlight.fl_change as c where c.tenant_id = $1 and (c.position, c.ordinal) > (p.position, p.ordinal))
            from fleetlight.fl_feature_place as p where p.tenant_id = $1
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        return await command.ExecuteScalarAsync(cancel) is true;
    }

    // One piece of the work in a transaction; whether more is left. The lock on the row keeps nodes from doing the same piece.
    private async Task<bool> StepAsync(string organisation)
    {
        await using var connection = await database.OpenConnectionAsync();
        await using var transaction = await connection.BeginTransactionAsync();
        var place = await FeaturePlace.LockAsync(connection, organisation);
        if (place.Edition != place.Current)
        {
            await place.StartOverAsync(connection, organisation);
            await transaction.CommitAsync();
            return true;
        }

        var (things, next) = place.Filling is { } filling
            ? await FillAsync(organisation, place, filling)
            : await FollowAsync(organisation, place);
        if (next is null) return false;
        await new FeatureWriter(database, organisation).WriteAsync(connection, things);
        await next.SaveAsync(connection, organisation);
        await transaction.CommitAsync();
        return true;
    }

    private async Task<(HashSet<(string Kind, string Id)> Things, FeaturePlace? Next)> FillAsync(string organisation, FeaturePlace place, string filling)
    {
        var colon = filling.IndexOf(':', StringComparison.Ordinal);
        var (kind, after) = colon < 0 ? (Kinds[0], "") : (filling[..colon], filling[(colon + 1)..]);
        var sql = kind switch
        {
            "circuit" => "select id from fl_circuit where tenant_id = $1 and id > $2 and $3 <> '' order by id limit $4",
            "alert" => "select id from fleetlight.mt_doc_alertdocument where tenant_id = $1 and id > $2 and $3 <> '' order by id limit $4",
            _ => "select id from fl_state where tenant_id = $1 and kind = $3 and id > $2 order by id limit $4",
        };
        var ids = new List<string>();
        await using (var command = database.CreateCommand(sql))
        {
            foreach (var value in (object[])[organisation, after, kind, Step]) command.Parameters.Add(new NpgsqlParameter { Value = value });
            await using var reader = await command.ExecuteReaderAsync();
            while (await reader.ReadAsync()) ids.Add(reader.GetString(0));
        }

        var then = ids.Count == Step ? $"{kind}:{ids[^1]}" : kind == Kinds[^1] ? null : $"{Kinds[Array.IndexOf(Kinds, kind) + 1]}:";
        return ([.. ids.Select(id => (kind, id))], place with { Filling = then });
    }

    private async Task<(HashSet<(string Kind, string Id)> Things, FeaturePlace? Next)> FollowAsync(string organisation, FeaturePlace place)
    {
        await using var command = database.CreateCommand(
            """
            select position, ordinal, kind, thing_id from fleetlight.fl_change
            where tenant_id = $1 and (position, ordinal) > ($2, $3) order by position, ordinal limit $4
            """);
        foreach (var value in (object[])[organisation, place.Position, place.Ordinal, Step]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync();
        var things = new HashSet<(string, string)>();
        FeaturePlace? next = null;
        while (await reader.ReadAsync())
        {
            next = place with { Position = reader.GetInt64(0), Ordinal = reader.GetInt32(1) };
            things.Add((reader.GetString(2), reader.GetString(3)));
        }

        return (things, next);
    }
}

/// <summary>How far an organisation's features are known.</summary>
/// <param name="Edition">The table of states that they were made of.</param>
/// <param name="Current">The table of states that is in use.</param>
/// <param name="Position">Position in the change feed.</param>
/// <param name="Ordinal">Place among the changes of that position.</param>
/// <param name="Filling">Where the first filling has come to; none once it is done.</param>
public sealed record FeaturePlace(long Edition, long Current, long Position, int Ordinal, string? Filling)
{
    /// <summary>Reads it and keeps others from changing it until the transaction ends.</summary>
    public static async Task<FeaturePlace> LockAsync(NpgsqlConnection connection, string organisation)
    {
        await using (var first = new NpgsqlCommand(
            "insert into fleetlight.fl_feature_place (tenant_id, edition, position, ordinal, filling) values ($1, 0, 0, -1, '') on conflict do nothing", connection))
        {
            first.Parameters.Add(new NpgsqlParameter { Value = organisation });
            await first.ExecuteNonQueryAsync();
        }

        await using var command = new NpgsqlCommand(
            "select edition, 'fl_state'::regclass::oid::bigint, position, ordinal, filling from fleetlight.fl_feature_place where tenant_id = $1 for update",
            connection);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        await using var reader = await command.ExecuteReaderAsync();
        await reader.ReadAsync();
        return new FeaturePlace(reader.GetInt64(0), reader.GetInt64(1), reader.GetInt64(2), reader.GetInt32(3), reader.IsDBNull(4) ? null : reader.GetString(4));
    }

    /// <summary>Throws the features away, to be filled in again from the states; changes from here on are followed after that.</summary>
    public async Task StartOverAsync(NpgsqlConnection connection, string organisation)
    {
        await using var command = new NpgsqlCommand("delete from fleetlight.fl_feature where tenant_id = $1", connection);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        await command.ExecuteNonQueryAsync();
        await using var newest = new NpgsqlCommand("select coalesce(max(position), 0) from fleetlight.fl_change where tenant_id = $1", connection);
        newest.Parameters.Add(new NpgsqlParameter { Value = organisation });
        var position = (long)(await newest.ExecuteScalarAsync())!;
        await (this with { Edition = Current, Position = position, Ordinal = int.MaxValue, Filling = "" }).SaveAsync(connection, organisation);
    }

    /// <summary>Keeps it.</summary>
    public async Task SaveAsync(NpgsqlConnection connection, string organisation)
    {
        await using var command = new NpgsqlCommand(
            "update fleetlight.fl_feature_place set edition = $2, position = $3, ordinal = $4, filling = nullif($5, '-') where tenant_id = $1", connection);
        foreach (var value in (object[])[organisation, Edition, Position, Ordinal, Filling ?? "-"]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await command.ExecuteNonQueryAsync();
    }
}
