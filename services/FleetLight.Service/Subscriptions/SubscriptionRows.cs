using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Secrets;
using FleetLight.Service.Store;
using Marten;
using Npgsql;

namespace FleetLight.Service.Subscriptions;

/// <summary>The rows of subscriptions and of what could not be told.</summary>
public sealed class SubscriptionRows(NpgsqlDataSource database)
{
    /// <summary>Puts a new one into the session.</summary>
    public static void Add(IDocumentSession session, Subscription made)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(made);
        session.QueueSqlCommand(
            $"""
            insert into {Tables.Schema}.fl_subscription (tenant_id, id, holder, url, filter, sealed, created_at, position, ordinal, due_at)
            values (?, ?, nullif(?, ''), ?, ?, ?, ?, ?, ?, ?)
            """,
            made.Organisation, made.Id, made.Holder ?? "", made.Url, JsonSerializer.Serialize(made.Filter, WireJson.Lenient), made.Secrets.Sealed!,
            made.CreatedAt.ToUniversalTime(), made.Place.Position, made.Place.Ordinal, made.DueAt.ToUniversalTime());
    }

    /// <summary>Takes one away, with what it was not told.</summary>
    public static void Remove(IDocumentSession session, string organisation, string id)
    {
        ArgumentNullException.ThrowIfNull(session);
        session.QueueSqlCommand($"delete from {Tables.Schema}.fl_parked where tenant_id = ? and subscription_id = ?", organisation, id);
        session.QueueSqlCommand($"delete from {Tables.Schema}.fl_subscription where tenant_id = ? and id = ?", organisation, id);
    }

    /// <summary>Tells on from another place.</summary>
    public static void Move(IDocumentSession session, string organisation, string id, StreamPlace place, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(session);
        session.QueueSqlCommand(
            $"""
            update {Tables.Schema}.fl_subscription set position = ?, ordinal = ?, attempts = 0, last_error = null, due_at = ?
            where tenant_id = ? and id = ?
            """,
            place.Position, place.Ordinal, now.ToUniversalTime(), organisation, id);
    }

    /// <summary>Other secrets sign.</summary>
    public static void Sign(IDocumentSession session, string organisation, string id, SealedSecrets secrets)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(secrets);
        session.QueueSqlCommand(
            $"update {Tables.Schema}.fl_subscription set sealed = ?, sealed_before = nullif(?, ''), before_until = ? where tenant_id = ? and id = ?",
            secrets.Sealed!, secrets.Before ?? "", (secrets.BeforeUntil ?? DateTimeOffset.UnixEpoch).ToUniversalTime(), organisation, id);
    }

    /// <summary>Puts what could not be told on its way again.</summary>
    public static void Retry(IDocumentSession session, string organisation, string id, string message, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(session);
        session.QueueSqlCommand(
            $"update {Tables.Schema}.fl_parked set again = true where tenant_id = ? and subscription_id = ? and id = ?", organisation, id, message);
        // Only what waits for its next attempt is hurried on; one that is under way looks again by itself.
        session.QueueSqlCommand(
            $"update {Tables.Schema}.fl_subscription set due_at = least(due_at, ?) where tenant_id = ? and id = ? and attempts = 0",
            now.ToUniversalTime(), organisation, id);
    }

    /// <summary>Throws away what could not be told.</summary>
    public static void Drop(IDocumentSession session, string organisation, string id, string message)
    {
        ArgumentNullException.ThrowIfNull(session);
        session.QueueSqlCommand(
            $"delete from {Tables.Schema}.fl_parked where tenant_id = ? and subscription_id = ? and id = ?", organisation, id, message);
    }

    /// <summary>Those of an organisation.</summary>
    public Task<List<Subscription>> ListAsync(string organisation, CancellationToken cancel) => ReadAsync(
        $"select {Subscription.Columns} from {Tables.Schema}.fl_subscription as s where tenant_id = $1 order by id", Subscription.Read, cancel, organisation);

    /// <summary>One of them.</summary>
    public async Task<Subscription?> FindAsync(string organisation, string id, CancellationToken cancel) => (await ReadAsync(
        $"select {Subscription.Columns} from {Tables.Schema}.fl_subscription as s where tenant_id = $1 and id = $2", Subscription.Read, cancel, organisation, id))
        .SingleOrDefault();

    /// <summary>Those who are to be told now, taken for a while: two nodes do not tell one at once.</summary>
    public Task<List<Subscription>> LeaseAsync(DateTimeOffset now, TimeSpan during, int most, CancellationToken cancel) => ReadAsync(
        $"""
        update {Tables.Schema}.fl_subscription as s set due_at = $2
        from (select w.tenant_id, w.id from {Tables.Schema}.fl_subscription as w
              where not w.ended and w.due_at <= $1
                and (exists (select 1 from {Tables.Schema}.fl_emitted as e where e.tenant_id = w.tenant_id
                             and (e.through, {int.MaxValue}) > (w.position, w.ordinal))
                     or exists (select 1 from {Tables.Schema}.fl_parked as p where p.tenant_id = w.tenant_id and p.subscription_id = w.id and p.again))
              order by w.due_at limit $3 for update skip locked) as due
        where s.tenant_id = due.tenant_id and s.id = due.id
        returning {Subscription.Columns}
        """, Subscription.Read, cancel, now.ToUniversalTime(), (now + during).ToUniversalTime(), most);

    /// <summary>
    /// It was told through a place. False where it meanwhile stands elsewhere: somebody moved it, or another node went on with it. The
    /// database need not have it on its disk at once: waiting for that after each event would take longer than all the rest, and
    /// what a crash of the database forgets, half a second at most, is told again under the same ids.
    /// </summary>
    /// <param name="told">As it was.</param>
    /// <param name="place">Through where.</param>
    /// <param name="at">When something was taken; none where nothing was for it.</param>
    /// <param name="dueAt">When to tell on.</param>
    /// <param name="cancel">Cancels.</param>
    public Task<bool> PassAsync(Subscription told, StreamPlace place, DateTimeOffset? at, DateTimeOffset dueAt, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(told);
        return WriteAsync(
            $"""
            update {Tables.Schema}.fl_subscription set position = $5, ordinal = $6, attempts = 0, last_error = null, due_at = $7, told_at = coalesce($8, told_at)
            where tenant_id = $1 and id = $2 and position = $3 and ordinal = $4 and not ended and (select set_config('synchronous_commit', 'off', true)) = 'off'
            """,
            cancel, told.Organisation, told.Id, told.Place.Position, told.Place.Ordinal, place.Position, place.Ordinal, dueAt.ToUniversalTime(),
            Nullable(at));
    }

    /// <summary>An attempt failed, or could not be made: it waits.</summary>
    public Task<bool> WaitAsync(Subscription told, int attempts, string? error, DateTimeOffset dueAt, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(told);
        return WriteAsync(
            $"""
            update {Tables.Schema}.fl_subscription set attempts = $5, last_error = $6, due_at = $7
            where tenant_id = $1 and id = $2 and position = $3 and ordinal = $4
            """,
            cancel, told.Organisation, told.Id, told.Place.Position, told.Place.Ordinal, attempts, error ?? (object)DBNull.Value, dueAt.ToUniversalTime());
    }

    /// <summary>Its key ended, and it with it.</summary>
    public Task<bool> EndAsync(Subscription told, string why, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(told);
        return WriteAsync($"update {Tables.Schema}.fl_subscription set ended = true, last_error = $3 where tenant_id = $1 and id = $2", cancel, told.Organisation, told.Id, why);
    }

    /// <summary>Keeps what could not be told for a person.</summary>
    public Task ParkAsync(Subscription told, string message, Told what, string error, DateTimeOffset now, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(told);
        ArgumentNullException.ThrowIfNull(what);
        return WriteAsync(
            $"""
            insert into {Tables.Schema}.fl_parked (tenant_id, subscription_id, id, position, ordinal, type, source, event_id, error, parked_at)
            values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)
            on conflict (tenant_id, subscription_id, id) do update set error = excluded.error, parked_at = excluded.parked_at, again = false
            """,
            cancel, told.Organisation, told.Id, message, what.Place.Position, what.Place.Ordinal, what.Event.Type, what.Event.Source, what.Event.Id, error,
            now.ToUniversalTime());
    }

    /// <summary>What was put on its way again, taken so that nobody else does.</summary>
    public Task<List<ParkedMessage>> TakeAgainAsync(Subscription told, int most, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(told);
        return ReadAsync(
            $"""
            update {Tables.Schema}.fl_parked set again = false where tenant_id = $1 and subscription_id = $2 and id in (
              select id from {Tables.Schema}.fl_parked where tenant_id = $1 and subscription_id = $2 and again limit $3 for update skip locked)
            returning {ParkedColumns}
            """, ReadParked, cancel, told.Organisation, told.Id, most);
    }

    /// <summary>It was taken after all.</summary>
    public Task UnparkAsync(Subscription told, string message, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(told);
        return WriteAsync(
            $"delete from {Tables.Schema}.fl_parked where tenant_id = $1 and subscription_id = $2 and id = $3", cancel, told.Organisation, told.Id, message);
    }

    /// <summary>What a subscription was not told, oldest first.</summary>
    public Task<List<ParkedMessage>> ParkedAsync(string organisation, string id, int offset, int most, CancellationToken cancel) => ReadAsync(
        $"""
        select {ParkedColumns} from {Tables.Schema}.fl_parked where tenant_id = $1 and subscription_id = $2
        order by position, ordinal, id offset $3 limit $4
        """, ReadParked, cancel, organisation, id, offset, most);

    /// <summary>Whether that waits there for a person.</summary>
    public async Task<bool> IsParkedAsync(string organisation, string id, string message, CancellationToken cancel) => (await ReadAsync(
        $"select {ParkedColumns} from {Tables.Schema}.fl_parked where tenant_id = $1 and subscription_id = $2 and id = $3",
        ReadParked, cancel, organisation, id, message)).Count > 0;

    /// <summary>Seals with the key that seals now what another one sealed; how many were changed.</summary>
    public async Task<int> SealAgainAsync(string organisation, SecretSeal seal, SealStanding standing, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(standing);
        ArgumentNullException.ThrowIfNull(seal);
        var changed = 0;
        foreach (var each in await ListAsync(organisation, cancel))
        {
            standing.Saw(each.Id, seal.Open(each.Secrets.Sealed, organisation, each.Id) is not null);
            if (each.Secrets.Again(seal, organisation, each.Id) is not { } again) continue;
            // Only over what was read: whoever replaced the secret meanwhile has sealed it with a key of theirs.
            if (await WriteAsync(
                    $"update {Tables.Schema}.fl_subscription set sealed = $3, sealed_before = $4 where tenant_id = $1 and id = $2 and sealed = $5",
                    cancel, organisation, each.Id, again.Sealed!, again.Before ?? (object)DBNull.Value, each.Secrets.Sealed!)) changed++;
        }

        return changed;
    }

    private const string ParkedColumns = "id, position, ordinal, type, source, event_id, error, parked_at, again";

    private static ParkedMessage ReadParked(NpgsqlDataReader reader) => new(
        reader.GetString(0), new StreamPlace(reader.GetInt64(1), reader.GetInt32(2)), reader.GetString(3), reader.GetString(4), reader.GetString(5),
        reader.GetString(6), reader.GetFieldValue<DateTimeOffset>(7), reader.GetBoolean(8));

    private static object Nullable(DateTimeOffset? at) => at is { } time ? time.ToUniversalTime() : DBNull.Value;

    private async Task<List<T>> ReadAsync<T>(string sql, Func<NpgsqlDataReader, T> read, CancellationToken cancel, params object[] values)
    {
        await using var command = database.CreateCommand(sql);
        foreach (var value in values) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var found = new List<T>();
        while (await reader.ReadAsync(cancel)) found.Add(read(reader));
        return found;
    }

    private async Task<bool> WriteAsync(string sql, CancellationToken cancel, params object[] values)
    {
        await using var command = database.CreateCommand(sql);
        foreach (var value in values) command.Parameters.Add(new NpgsqlParameter { Value = value });
        return await command.ExecuteNonQueryAsync(cancel) > 0;
    }
}
