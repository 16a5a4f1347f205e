using Marten;
using Npgsql;

namespace FleetLight.Service.Audit;

/// <summary>
/// Lets the acts of an organisation be noted one after the other: they stand in one stream, and two transactions that append to
/// it at once would be refused though they have nothing to do with each other.
/// </summary>
public sealed class AuditTurn : DocumentSessionListenerBase
{
    /// <inheritdoc/>
    public override async Task BeforeSaveChangesAsync(IDocumentSession session, CancellationToken token)
    {
        if (!session.PendingChanges.Streams().Any(stream => stream.Key == AuditEvents.Stream)) return;
        await session.BeginTransactionAsync(token);
        await using var turn = new NpgsqlCommand("select pg_advisory_xact_lock(hashtextextended($1, 0))", session.Connection);
        turn.Parameters.Add(new NpgsqlParameter { Value = $"fleetlight acts of {session.TenantId}" });
        await turn.ExecuteNonQueryAsync(token);
    }
}
