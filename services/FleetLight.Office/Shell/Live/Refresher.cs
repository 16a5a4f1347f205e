using FleetLight.Contracts.Views;

namespace FleetLight.Office.Shell.Live;

/// <summary>
/// Asks again when something changed that somebody looks at: not more often than the asking itself allows, and once more by
/// itself after it failed.
/// </summary>
public sealed class Refresher : IDisposable
{
    private static readonly TimeSpan Shortest = TimeSpan.FromMilliseconds(500);
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan AfterFailure = TimeSpan.FromSeconds(5);

    // Reading takes at most a tenth of the time.
    private const double Rest = 10;

    private readonly LiveFeed feed;
    private readonly TimeProvider clock;
    private readonly Func<ChangeView, bool> concerns;
    private readonly Func<Task<bool>> ask;
    private ITimer? timer;
    private bool asking;
    private bool again;
    private TimeSpan took;

    /// <summary>Asks again while it lives.</summary>
    /// <param name="feed">What changed.</param>
    /// <param name="clock">The clock.</param>
    /// <param name="concerns">Whether a change concerns what is shown.</param>
    /// <param name="ask">Asks; whether an answer came.</param>
    public Refresher(LiveFeed feed, TimeProvider clock, Func<ChangeView, bool> concerns, Func<Task<bool>> ask)
    {
        (this.feed, this.clock, this.concerns, this.ask) = (feed, clock, concerns, ask);
        feed.Changed += OnChanged;
        feed.Turned += OnTurned;
    }

    /// <summary>Whether the last asking got no answer.</summary>
    public bool Failed { get; private set; }

    /// <summary>Asks now.</summary>
    public async Task NowAsync()
    {
        timer?.Dispose();
        timer = null;
        if (asking)
        {
            again = true;
            return;
        }

        asking = true;
        var began = clock.GetTimestamp();
        try
        {
            Failed = !await ask();
        }
        finally
        {
            asking = false;
            took = clock.GetElapsedTime(began);
        }

        if (Failed) Later(AfterFailure);
        else if (again) Later(Pause());
        again = false;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        feed.Changed -= OnChanged;
        feed.Turned -= OnTurned;
        timer?.Dispose();
        timer = null;
    }

    private void OnChanged(IReadOnlyList<ChangeView> changes)
    {
        if (!changes.Any(concerns)) return;
        if (asking) again = true;
        else if (timer is null) Later(Pause());
    }

    private void OnTurned()
    {
        if (feed.Live && Failed) Later(TimeSpan.Zero);
    }

    private TimeSpan Pause()
    {
        var rest = took * Rest;
        return rest < Shortest ? Shortest : rest > Longest ? Longest : rest;
    }

    private void Later(TimeSpan wait)
    {
        timer?.Dispose();
        timer = clock.CreateTimer(_ => _ = NowAsync(), null, wait, Timeout.InfiniteTimeSpan);
    }
}
