using FleetLight.Client;
using FleetLight.Contracts.Views;
using FleetLight.Office.Shell.Keys;
using Microsoft.AspNetCore.Components;

namespace FleetLight.Office.Shell.Live;

/// <summary>
/// A page, or a part of one, that reads something from the service and reads it again when that changes. Who derives from it says
/// what is read (<see cref="LoadAsync"/>), which changes concern it, and from what it follows (<see cref="What"/>).
/// </summary>
public abstract class LivePage : ComponentBase, IDisposable
{
    private readonly CancellationTokenSource gone = new();
    private Refresher? refresher;
    private object? before;
    private int turn;

    [Inject]
    protected OfficeSession Session { get; set; } = null!;

    [Inject]
    protected LiveFeed Feed { get; set; } = null!;

    [Inject]
    protected TimeProvider Clock { get; set; } = null!;

    [Inject]
    protected NavigationManager Addresses { get; set; } = null!;

    /// <summary>Whether it was read.</summary>
    public bool Loaded { get; private set; }

    /// <summary>When it was last read.</summary>
    public DateTimeOffset LoadedAt { get; private set; }

    /// <summary>Why the last reading gave nothing, in plain words.</summary>
    public string? Trouble { get; private set; }

    /// <summary>Whether there is no such thing.</summary>
    public bool Missing { get; private set; }

    /// <summary>Time zone of the reader.</summary>
    protected TimeZoneInfo Zone => Clock.LocalTimeZone;

    /// <summary>Ends when the page is left.</summary>
    protected CancellationToken Left => gone.Token;

    /// <summary>From what follows what is read, such as the id in the address: another value starts over.</summary>
    protected virtual object? What => null;

    /// <summary>Whether a change concerns what is shown.</summary>
    protected virtual bool Concerns(ChangeView change) => true;

    /// <summary>Reads. Says whether there is such a thing.</summary>
    protected abstract Task<bool> LoadAsync(CancellationToken cancel);

    /// <summary>Reads again.</summary>
    public Task RefreshAsync() => refresher?.NowAsync() ?? Task.CompletedTask;

    /// <inheritdoc/>
    protected override async Task OnParametersSetAsync()
    {
        if (refresher is not null && Equals(before, What)) return;
        before = What;
        turn++;
        (Loaded, Trouble, Missing) = (false, null, false);
        refresher ??= new Refresher(Feed, Clock, Concerns, ReadAsync);
        await refresher.NowAsync();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Dispose(true);
        GC.SuppressFinalize(this);
    }

    /// <summary>Ends it.</summary>
    protected virtual void Dispose(bool disposing)
    {
        refresher?.Dispose();
        gone.Cancel();
        gone.Dispose();
    }

    private async Task<bool> ReadAsync()
    {
        if (gone.IsCancellationRequested) return true;
        var mine = turn;
        try
        {
            Missing = !await LoadAsync(gone.Token);
            (Loaded, Trouble, LoadedAt) = (true, null, Clock.GetUtcNow());
        }
        catch (OperationCanceledException)
        {
            return true;
        }
        catch (FleetLightException failed)
        {
            Trouble = await Session.FailedAsync(failed);
            if (gone.IsCancellationRequested) return true;
            StateHasChanged();
            return failed is ProblemException { IsPassing: false };
        }

        if (mine != turn) return await ReadAsync();
        StateHasChanged();
        return true;
    }
}
