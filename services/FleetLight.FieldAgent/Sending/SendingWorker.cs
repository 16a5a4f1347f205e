using FleetLight.Client;
using FleetLight.FieldAgent.Faults;
using FleetLight.FieldAgent.Identity;
using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent.Sending;

/// <summary>Sends while the agent runs.</summary>
internal sealed class SendingWorker(
    FieldOptions options, IdentityFile identities, Outgoing outgoing, FactDesk desk, TimeProvider clock, IFaultPoints faults, FatalEnd end,
    ILogger<SendingWorker> log) : BackgroundService
{
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan KeyNotTaken = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan ForgetEvery = TimeSpan.FromHours(1);
    private readonly SemaphoreSlim recorded = new(0, 1);
    private long forgotAt;
    private bool forgot;

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        desk.Recorded += Wake;
        try
        {
            await end.WatchAsync(() => RunAsync(stoppingToken));
        }
        catch (OperationCanceledException)
        {
            // The agent ends; what waits is sent after its next start.
        }
        finally
        {
            desk.Recorded -= Wake;
        }
    }

    private async Task RunAsync(CancellationToken cancel)
    {
        while (true)
        {
            using var alone = SenderLock.TryTake(options.Folder);
            if (alone is null || identities.Find() is not { } identity)
            {
                await RestAsync(Look, cancel);
                continue;
            }

            await SendAsync(identity, cancel);
        }
    }

    // For as long as the device is the same one at the same service.
    private async Task SendAsync(DeviceIdentity identity, CancellationToken cancel)
    {
        using var client = Clients.For(options, identities, identity, clock);
        var sender = new Sender(client.Device, identity.Source, outgoing, options, clock, faults);
        log.LogInformation("Sending as {Identity}", identity);
        var failures = 0;
        while (identities.Find() is { } now && now.Address == identity.Address && now.Source == identity.Source)
        {
            var step = await sender.StepAsync(cancel);
            failures = step.Kind is StepKind.Failed or StepKind.NotTaken ? failures + 1 : 0;
            switch (step.Kind)
            {
                case StepKind.Idle:
                    Forget();
                    await RenewAsync(client, now, cancel);
                    await RestAsync(Look, cancel);
                    break;
                case StepKind.NotTaken:
                    if (failures == 1) log.LogWarning("{Why}", step.Why);
                    await Task.Delay(Shorter(KeyNotTaken, options.LongestPause), clock, cancel);
                    break;
                case StepKind.Failed:
                    var rest = Pauses.After(failures, step.Asked, options.LongestPause, Random.Shared.NextDouble());
                    if (failures == 1) log.LogWarning("Not sent: {Why} Next try in {Seconds:0.0} s", step.Why, rest.TotalSeconds);
                    await Task.Delay(rest, clock, cancel);
                    break;
                default:
                    break;
            }
        }
    }

    private void Forget()
    {
        if (forgot && clock.GetElapsedTime(forgotAt) < ForgetEvery) return;
        forgot = true;
        forgotAt = clock.GetTimestamp();
        if (outgoing.Forget(clock.GetUtcNow() - options.KeepFor) is > 0 and var count) log.LogInformation("Let go of {Count} facts that the service has had for long", count);
    }

    private async Task RenewAsync(FleetLightClient client, DeviceIdentity identity, CancellationToken cancel)
    {
        if (clock.GetUtcNow() - identity.KeyGivenAt < options.KeyAge) return;
        try
        {
            await Clients.RenewAsync(client, identities, identity, clock, cancel);
            log.LogInformation("The device has a new key");
        }
        catch (FleetLightException failed)
        {
            // The old key is still taken; not asked for again before a day has passed.
            identities.Write(identity with { KeyGivenAt = clock.GetUtcNow() - options.KeyAge + TimeSpan.FromDays(1) });
            log.LogWarning("No new key: {Why}", failed.Message);
        }
    }

    private void Wake()
    {
        if (recorded.CurrentCount > 0) return;
        try
        {
            recorded.Release();
        }
        catch (SemaphoreFullException)
        {
            // Somebody else woke it.
        }
    }

    private Task<bool> RestAsync(TimeSpan length, CancellationToken cancel) => recorded.WaitAsync(length, cancel);

    private static TimeSpan Shorter(TimeSpan one, TimeSpan other) => one < other ? one : other;
}
