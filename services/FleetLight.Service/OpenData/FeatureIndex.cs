using System.Collections.Concurrent;
using System.Diagnostics;
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
    private static readonly TimeSpan Look = TimeSpan.FromMilliseconds(50);

    // Kinds in the order in which they are filled in: what others lean on first.
    private static readonly string[] Kinds = [StateKinds.Duct, StateKinds.Cable, StateKinds.Box, "circuit", "alert"];

    private readonly ConcurrentDictionary<string, Lazy<Task>> running = new(StringComparer.Ordinal);

    /// <summary>
    /// Brings the features up to the end that the feed has now: facts that come meanwhile are nothing to wait for. A problem where that
    /// takes longer than an answer may: it goes on meanwhile. While they are made anew of rebuilt states, those that there are stay and
    /// follow the feed, so that nobody waits.
    /// </summary>
    public async Task<Problem?> CatchUpAsync(string organisation, CancellationToken cancel)
    {
        var newest = await NewestAsync(organisation, cancel);
        var standing = await StandingAsync(organisation, newest, cancel);
        if (standing == FeatureStanding.Abreast) return null;
        var work = running.GetOrAdd(organisation, each => new Lazy<Task>(() => Task.Run(() => RunAsync(each), CancellationToken.None))).Value;
        var began = Stopwatch.GetTimestamp();
        while (standing != FeatureStanding.MadeAnew)
        {
            if (work.IsCompleted)
            {
                await work;
                return null;
            }

            if (Stopwatch.GetElapsedTime(began) > Patience)
            {
                return Problems.Unavailable() with
                {
                    Detail = "The open data of your organisation are being made for the first time, or anew.",
                    Remedy = "Ask again after the time in Retry-After: the work goes on meanwhile.",
                };
            }

            await Task.WhenAny(work, Task.Delay(Look, cancel));
            cancel.ThrowIfCancellationRequested();
            standing = await StandingAsync(organisation, newest, cancel);
            if (standing == FeatureStanding.Abreast) return null;
        }

        return null;
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

    private async Task<(long Position, int Ordinal)> NewestAsync(string organisation, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            "select position, ordinal from fleetlight.fl_change where tenant_id = $1 order by position desc, ordinal desc limit 1");
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        return await reader.ReadAsync(cancel) ? (reader.GetInt64(0), reader.GetInt32(1)) : (0, -1);
    }

    private async Task<FeatureStanding> StandingAsync(string organisation, (long Position, int Ordinal) newest, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select p.edition = 'fl_state'::regclass::oid::bigint and p.filling is null,
              p.edition <> 0 and (p.filling is null or p.filling like '{FeaturePlace.Again}%'),
              ($2, $3) > (p.position, p.ordinal)
            from fleetlight.fl_feature_place as p where p.tenant_id = $1
            """);
        foreach (var value in (object[])[organisation, newest.Position, newest.Ordinal]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        if (!await reader.ReadAsync(cancel) || !reader.GetBoolean(1) || reader.GetBoolean(2)) return FeatureStanding.Behind;
        return reader.GetBoolean(0) ? FeatureStanding.Abreast : FeatureStanding.MadeAnew;
    }

    // One piece of the work in a transaction; whether more is left. The lock on the row keeps nodes from doing the same piece.
    private async Task<bool> StepAsync(string organisation)
    {
        await using var connection = await database.OpenConnectionAsync();
        await using var transaction = await connection.BeginTransactionAsync();
        var place = await FeaturePlace.LockAsync(connection, organisation);
        if (place.Edition != place.Current)
        {
            if (!await place.StartOverAsync(connection, organisation)) await Task.Delay(Look);
            await transaction.CommitAsync();
            return true;
        }

        // What there is already is kept abreast before more of it is made anew.
        var (things, next) = place.Filling is null || place.IsMadeAnew ? await FollowAsync(organisation, place) : ([], null);
        if (next is null && place.Filling is { } filling) (things, next) = await FillAsync(organisation, place, filling);
        if (next is null) return false;
        await new FeatureWriter(database, organisation, log).WriteAsync(connection, things);
        if (next.Filling is null && place.IsMadeAnew) await FeatureWriter.RemoveOwnerlessAsync(connection, organisation);
        await next.SaveAsync(connection, organisation);
        await transaction.CommitAsync();
        return true;
    }

    private async Task<(HashSet<(string Kind, string Id)> Things, FeaturePlace? Next)> FillAsync(string organisation, FeaturePlace place, string filling)
    {
        var prefix = place.IsMadeAnew ? FeaturePlace.Again : "";
        filling = filling[prefix.Length..];
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

        var then = ids.Count == Step ? $"{prefix}{kind}:{ids[^1]}" : kind == Kinds[^1] ? null : $"{prefix}{Kinds[Array.IndexOf(Kinds, kind) + 1]}:";
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
