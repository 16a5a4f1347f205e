using FleetLight.Service.Intake;
using Marten;
using Npgsql;

namespace FleetLight.Service.Access;

/// <summary>Makes and ends keys within a session, with everything that belongs to it.</summary>
public static class KeyDesk
{
    /// <summary>A new key: its record, and its text for the holder.</summary>
    public static (KeyRecord Record, string Text) Make(
        string name, string organisation, string? source, Role? role, IEnumerable<Scope> scopes, DateTimeOffset now)
    {
        var (id, text) = KeyText.Make();
        return (new KeyRecord
        {
            Id = id,
            Hash = KeyText.Hash(text),
            Name = name,
            Organisation = organisation,
            Source = source ?? (role == Role.Office ? OfficeSource.OfKey(id) : null),
            Role = role,
            Scopes = [.. scopes.Distinct()],
            CreatedAt = now,
        }, text);
    }

    /// <summary>Keeps a new key, and makes its device known.</summary>
    public static void Keep(IDocumentSession session, KeyRecord key)
    {
        session.Store(key);
        // The office's own source becomes a known one with its first fact: most who read never record one.
        if (key is { Source: { } source, Role: not Role.Office } && key.Allows().Contains(Scope.PostEvents)) DeviceRows.Know(session, key.Organisation, source);
    }

    /// <summary>Ends a key, here and on every other node as soon as the session is saved.</summary>
    public static void Revoke(IDocumentSession session, KeyRecord key, DateTimeOffset now)
    {
        key.RevokedAt ??= now;
        session.Store(key);
        KeyFollower.Tell(session, key.Id);
    }

    /// <summary>
    /// Changes keys and saves, one change of an organisation's keys after the other: else whoever saves last would bring back
    /// what was revoked meanwhile.
    /// </summary>
    public static async Task SaveAsync(IDocumentStore store, string organisation, Func<IDocumentSession, Task> change, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(organisation);
        await session.BeginTransactionAsync(cancel);
        await using (var turn = new NpgsqlCommand("select pg_advisory_xact_lock(hashtextextended($1, 0))", session.Connection))
        {
            turn.Parameters.Add(new NpgsqlParameter { Value = $"fleetlight keys of {organisation}" });
            await turn.ExecuteNonQueryAsync(cancel);
        }

        await change(session);
        await session.SaveChangesAsync(cancel);
    }

    /// <summary>Whether that may be a device's source: a URI reference that none of the store's own streams is called by.</summary>
    public static bool IsSource(string text) =>
        text.Length is > 0 and <= 200 && Uri.IsWellFormedUriString(text, UriKind.RelativeOrAbsolute) && !OwnStreams.Any(own => text.StartsWith(own, StringComparison.Ordinal));

    private static readonly string[] OwnStreams =
    [
        "alert:", Judgement.JudgingEvents.Prefix, Audit.AuditEvents.Prefix, Photos.AttachmentEvents.Prefix, Visits.VisitEvents.Prefix,
    ];
}
