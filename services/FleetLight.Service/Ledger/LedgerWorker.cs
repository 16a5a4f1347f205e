using System.Diagnostics;

namespace FleetLight.Service.Ledger;

/// <summary>
/// Keeps the ledgers up with what is recorded, and makes checkpoints of them. Every node runs one; a lock lets one of them work at a
/// time. It rests three times as long as it works, so that it leaves the processors to those who wait for an answer: under load it
/// falls behind, and comes after when there is room.
/// </summary>
public sealed class LedgerWorker(LedgerAppender appender, CheckpointDesk checkpoints, LedgerKeys keys, LedgerOptions options, TimeProvider clock, ILogger<LedgerWorker> log)
    : BackgroundService
{
    private static readonly TimeSpan LookAtGapsEvery = TimeSpan.FromMinutes(1);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var lookedAtGaps = DateTimeOffset.MinValue;
        while (!stoppingToken.IsCancellationRequested)
        {
            var rest = options.LookEvery;
            try
            {
                var began = Stopwatch.GetTimestamp();
                var gaps = clock.GetUtcNow() - lookedAtGaps >= LookAtGapsEvery;
                var turn = await appender.TurnAsync(waits: false, gaps, stoppingToken);
                if (gaps) lookedAtGaps = clock.GetUtcNow();
                if (turn.More) rest = 3 * Stopwatch.GetElapsedTime(began);
                else await CheckpointsAsync(stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
            catch (Exception failed)
            {
                log.LogWarning(failed, "The ledger cannot be written; trying again");
            }

            try
            {
                await Task.Delay(rest, stoppingToken);
            }
            catch (OperationCanceledException)
            {
                return;
            }
        }
    }

    private async Task CheckpointsAsync(CancellationToken cancel)
    {
        if (keys.KeyId is null) return;
        foreach (var organisation in await checkpoints.DueAsync(clock.GetUtcNow() - options.CheckpointEvery, cancel))
            await checkpoints.MakeAsync(organisation, cancel);
    }
}
