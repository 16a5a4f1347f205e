using FleetLight.Client;
using FleetLight.FieldAgent.Identity;
using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent.Receiving;

/// <summary>Brings the device's sites up to date while the agent runs.</summary>
internal sealed class ReceivingWorker(
    FieldOptions options, IdentityFile identities, OutboxFile outbox, TimeProvider clock, FatalEnd end, ILogger<ReceivingWorker> log) : BackgroundService
{
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(1);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            await end.WatchAsync(() => RunAsync(stoppingToken));
        }
        catch (OperationCanceledException)
        {
            // The agent ends; it goes on from its cursor after its next start.
        }
    }

    private async Task RunAsync(CancellationToken cancel)
    {
        var said = "";
        while (true)
        {
            if (identities.Find() is { } identity)
            {
                using var client = Clients.For(options, identities, identity, clock);
                try
                {
                    await new Receiver(client, outbox, clock).RunAsync(cancel);
                    said = "";
                }
                catch (FleetLightException failed)
                {
                    if (said != failed.Message) log.LogWarning("Sites are not brought up to date: {Why}", failed.Message);
                    said = failed.Message;
                }

                await Task.Delay(options.LookEvery, clock, cancel);
            }
            else
            {
                await Task.Delay(Look, clock, cancel);
            }
        }
    }
}
