using FleetLight.Service.Alerts;
using FleetLight.Service.Store;
using FleetLight.Service.Subscriptions;
using Marten;
using Npgsql;

namespace FleetLight.Service.Secrets;

/// <summary>
/// Seals what an earlier version kept readable, and seals anew what another master secret sealed, at the start of a node. What it
/// cannot open it leaves alone and says.
/// </summary>
public sealed class SecretStart(
    NpgsqlDataSource database, IDocumentStore store, SubscriptionRows subscriptions, SecretSeal seal, SealStanding standing, ILogger<SecretStart> log) : IHostedService
{
    /// <inheritdoc/>
    public async Task StartAsync(CancellationToken cancellationToken)
    {
        foreach (var note in standing.Notes()) log.LogWarning("{Note}", note);
        var organisations = await OrganisationsAsync(cancellationToken);
        var changed = 0;
        foreach (var organisation in organisations)
        {
            await using var session = store.LightweightSession(organisation);
            var webhooks = await session.Query<Webhook>().ToListAsync(cancellationToken);
            foreach (var webhook in webhooks)
            {
                if (webhook.SealAgain(seal, organisation))
                {
                    session.Store(webhook);
                    changed++;
                }

                standing.Saw(webhook.Id, seal.Open(webhook.Sealed, organisation, webhook.Id) is not null);
            }

            await session.SaveChangesAsync(cancellationToken);
            changed += await subscriptions.SealAgainAsync(organisation, seal, standing, cancellationToken);
        }

        if (changed > 0) log.LogInformation("{Count} secrets were sealed anew", changed);
        foreach (var missing in standing.Missing()) log.LogWarning("{Missing}", missing);
    }

    /// <inheritdoc/>
    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    private async Task<List<string>> OrganisationsAsync(CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"select distinct tenant_id from {Tables.Schema}.mt_doc_webhook union select distinct tenant_id from {Tables.Schema}.fl_subscription");
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var found = new List<string>();
        while (await reader.ReadAsync(cancel)) found.Add(reader.GetString(0));
        return found;
    }
}
