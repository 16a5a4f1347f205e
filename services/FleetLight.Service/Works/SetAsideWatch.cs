namespace FleetLight.Service.Works;

/// <summary>Counts on this node, now and then, what stands aside, for the gauge that alarms look at.</summary>
public sealed class SetAsideWatch(SetAsideList list, WorksMetrics metrics, ILogger<SetAsideWatch> log) : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(10);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Every);
        try
        {
            do await CountAsync(stoppingToken);
            while (await timer.WaitForNextTickAsync(stoppingToken));
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The service ends.
        }
    }

    private async Task CountAsync(CancellationToken cancel)
    {
        try
        {
            metrics.Open(await list.CountAsync(cancel));
        }
        catch (Exception failed) when (!Poison.Is(failed, cancel))
        {
            cancel.ThrowIfCancellationRequested();
            log.LogDebug(failed, "What stands aside could not be counted");
        }
    }
}
