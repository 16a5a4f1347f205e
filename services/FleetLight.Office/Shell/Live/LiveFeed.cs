using FleetLight.Client;
using FleetLight.Contracts.Views;
using Microsoft.JSInterop;

namespace FleetLight.Office.Shell.Live;

/// <summary>
/// Follows the change feed for the whole page: tells what changed, many at once, and whether the page is live. After any
/// interruption it goes on where it was, so nothing is passed over.
/// </summary>
public sealed class LiveFeed(TimeProvider clock) : IDisposable
{
    // Changes come in bursts; so long they are gathered.
    private static readonly TimeSpan Gather = TimeSpan.FromMilliseconds(250);

    private readonly List<ChangeView> waiting = [];
    private FleetLightClient? followed;
    private string? cursor;
    private CancellationTokenSource? stop;
    private ITimer? timer;

    /// <summary>Whether what changes is heard at once.</summary>
    public bool Live { get; private set; }

    /// <summary>Since when it is not.</summary>
    public DateTimeOffset? Since { get; private set; }

    /// <summary>When something last changed.</summary>
    public DateTimeOffset? LastChange { get; private set; }

    /// <summary>Is told what changed.</summary>
    public event Action<IReadOnlyList<ChangeView>>? Changed;

    /// <summary>Is told when <see cref="Live"/> changes.</summary>
    public event Action? Turned;

    /// <summary>Is told when the service does not take the key any more.</summary>
    public event Action<ProblemException>? Ended;

    /// <summary>Follows from a place on.</summary>
    public void Follow(FleetLightClient client, string? from)
    {
        Stop();
        Live = true;
        Since = null;
        (followed, cursor) = (client, from);
        stop = new CancellationTokenSource();
        _ = RunAsync(client, from, stop.Token);
    }

    /// <summary>
    /// The browser has lost its network: the stream that is open would be waited for until it has been silent for long. It is
    /// given up, and opened anew from where it was.
    /// </summary>
    [JSInvokable]
    public void Break()
    {
        if (followed is not { } client || stop is not { } open) return;
        Turn(false);
        open.Cancel();
        open.Dispose();
        stop = new CancellationTokenSource();
        _ = RunAsync(client, cursor, stop.Token);
    }

    /// <summary>Follows no longer.</summary>
    public void Stop()
    {
        stop?.Cancel();
        stop?.Dispose();
        stop = null;
        timer?.Dispose();
        timer = null;
        waiting.Clear();
        followed = null;
    }

    /// <inheritdoc/>
    public void Dispose() => Stop();

    private async Task RunAsync(FleetLightClient client, string? from, CancellationToken cancel)
    {
        try
        {
            await foreach (var change in client.Changes.FollowAsync(from, new Heard(this), cancel))
            {
                waiting.Add(change);
                cursor = change.Cursor;
                LastChange = clock.GetUtcNow();
                timer ??= clock.CreateTimer(_ => Tell(), null, Gather, Timeout.InfiniteTimeSpan);
            }
        }
        catch (OperationCanceledException)
        {
        }
        catch (ProblemException refused)
        {
            Turn(false);
            Ended?.Invoke(refused);
        }
    }

    private void Tell()
    {
        timer?.Dispose();
        timer = null;
        ChangeView[] changes = [.. waiting];
        waiting.Clear();
        Changed?.Invoke(changes);
    }

    private void Turn(bool live)
    {
        if (Live == live) return;
        Live = live;
        Since = live ? null : clock.GetUtcNow();
        Turned?.Invoke();
    }

    // At once, not through a synchronisation context: the page has one thread.
    private sealed class Heard(LiveFeed feed) : IProgress<bool>
    {
        public void Report(bool value) => feed.Turn(value);
    }
}
