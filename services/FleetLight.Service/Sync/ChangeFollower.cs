using FleetLight.Contracts;
using FleetLight.Service.Circuits;
using FleetLight.Service.Hosting;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Sync;

/// <summary>
/// Follows the change feed on this node: throws remembered states away as soon as they are out of date, whichever node
/// projected the change, and wakes the readers that wait for changes.
/// </summary>
public sealed class ChangeFollower(NpgsqlDataSource database, ChangeFeed feed, StatusCache cache, ChangeSignal signal, ILogger<ChangeFollower> log)
    : BackgroundService
{
    /// <summary>Channel on which the projection says that it has committed.</summary>
    public const string Channel = "fleetlight_change";

    // A notification may be lost with its connection; looking anyway bounds how long a state can be out of date.
    private static readonly TimeSpan LookAnyway = TimeSpan.FromSeconds(1);

    // So does giving up on a database that does not answer: what is remembered may be old by then.
    private static readonly TimeSpan MostPatience = TimeSpan.FromSeconds(3);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await FollowAsync(stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
            catch (Exception lost)
            {
                // Nothing is known of what changed meanwhile: remember nothing until the feed can be followed again.
                cache.Pause();
                log.LogWarning(lost, "The change feed cannot be followed; trying again");
                await Task.Delay(LookAnyway, stoppingToken);
            }
        }
    }

    private async Task FollowAsync(CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        await using (var listen = new NpgsqlCommand($"listen {Channel}", connection)) await listen.ExecuteNonQueryAsync(cancel);
        var start = await feed.NewestAsync(cancel);
        FeedChange? last = null;
        cache.Resume(start);
        while (true)
        {
            var from = last;
            var changes = await TimeLimit.RunAsync(
                MostPatience, token => from is null ? feed.AfterAsync(start, token) : feed.AfterAsync(from, token), cancel);
            foreach (var change in changes)
            {
                if (change.Kind == ThingKeys.NameOf(ThingKind.Circuit)) cache.Forget(change.Organisation, change.Id);
                last = change;
            }

            if (changes.Count > 0)
            {
                // The newest position may go on in the next page: only what lies before it was seen whole.
                cache.Followed(changes[^1].Cursor.Position - 1);
                signal.Set();
                continue;
            }

            if (last is not null) cache.Followed(last.Cursor.Position);
            await connection.WaitAsync(LookAnyway, cancel);
        }
    }
}

/// <summary>Wakes whoever waits for the next change on this node.</summary>
public sealed class ChangeSignal
{
    private TaskCompletionSource next = New();

    /// <summary>Ends when something changes after the call.</summary>
    public Task Next => Volatile.Read(ref next).Task;

    /// <summary>Something changed.</summary>
    public void Set() => Interlocked.Exchange(ref next, New()).SetResult();

    private static TaskCompletionSource New() => new(TaskCreationOptions.RunContinuationsAsynchronously);
}
