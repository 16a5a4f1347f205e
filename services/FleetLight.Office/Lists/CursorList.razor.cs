using FleetLight.Client;
using FleetLight.Contracts.Views;
using FleetLight.Office.Shell.Keys;
using FleetLight.Office.Shell.Live;
using FleetLight.PageParts.Lists;
using FleetLight.PageParts.Signs;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web.Virtualization;

namespace FleetLight.Office.Lists;

/// <summary>A list as long as may be, fetched page by page.</summary>
public sealed partial class CursorList<T> : ComponentBase, IDisposable
{
    private readonly PagedLines<T> lines = new();
    private readonly CancellationTokenSource gone = new();
    private Virtualize<T>? window;
    private Refresher? refresher;
    private object? before;
    private int turn;
    private string? trouble;
    private (int First, int Count) inSight;

    [Inject]
    private OfficeSession Session { get; set; } = null!;

    [Inject]
    private LiveFeed Feed { get; set; } = null!;

    [Inject]
    private TimeProvider Clock { get; set; } = null!;

    /// <summary>What the list is, for those who do not see it.</summary>
    [Parameter, EditorRequired]
    public string Label { get; set; } = "";

    /// <summary>What one of its members is called, and several.</summary>
    [Parameter]
    public (string One, string Many) Called { get; set; } = ("line", "lines");

    /// <summary>Number of all members, where that is known from elsewhere.</summary>
    [Parameter]
    public long? Total { get; set; }

    /// <summary>Reads a page: cursor, most members.</summary>
    [Parameter, EditorRequired]
    public Func<string?, int, CancellationToken, Task<Page<T>>> Read { get; set; } = null!;

    /// <summary>From what follows what is read, such as the filter: another value starts over.</summary>
    [Parameter]
    public object? What { get; set; }

    /// <summary>Whether a change concerns the list.</summary>
    [Parameter]
    public Func<ChangeView, bool> Concerns { get; set; } = _ => true;

    /// <summary>Height of a line, px, until it was measured.</summary>
    [Parameter]
    public float LineHeight { get; set; } = 64;

    [Parameter, EditorRequired]
    public RenderFragment<T> Line { get; set; } = null!;

    /// <summary>What to show where there is nothing.</summary>
    [Parameter]
    public RenderFragment? Empty { get; set; }

    private string Counted => !lines.Known || lines.Count == 0 ? ""
        : lines.Whole ? Words.Count(lines.Count, Called.One, Called.Many)
        : Total is { } total ? Words.Count(total, Called.One, Called.Many)
        : $"More than {Words.Count(lines.Count, Called.One, Called.Many)}; the rest comes as you scroll.";

    /// <summary>Asks again for what is in sight.</summary>
    public Task RefreshAsync() => refresher?.NowAsync() ?? Task.CompletedTask;

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        refresher ??= new Refresher(Feed, Clock, change => Concerns(change), ReadInSightAsync);
        if (Equals(before, What)) return;
        var first = before is null;
        before = What;
        if (first && !lines.Known) return;
        lines.Forget();
        trouble = null;
        // Another list, from its beginning: the old one's place in it means nothing.
        turn++;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        refresher?.Dispose();
        gone.Cancel();
        gone.Dispose();
    }

    private async ValueTask<ItemsProviderResult<T>> ProvideAsync(ItemsProviderRequest request)
    {
        inSight = (request.StartIndex, request.Count);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(request.CancellationToken, gone.Token);
        var known = lines.Known;
        try
        {
            await lines.ReachAsync(request.StartIndex + request.Count, Read, either.Token);
            if (trouble is not null || !known)
            {
                trouble = null;
                StateHasChanged();
            }
        }
        catch (FleetLightException failed)
        {
            await FailAsync(failed);
        }

        return new ItemsProviderResult<T>(lines.Slice(request.StartIndex, request.Count), lines.Shown);
    }

    private async Task<bool> ReadInSightAsync()
    {
        if (gone.IsCancellationRequested) return true;
        try
        {
            await lines.ReadAgainAsync(inSight.First, inSight.Count, Read, gone.Token);
            trouble = null;
            if (window is not null) await window.RefreshDataAsync();
            StateHasChanged();
            return true;
        }
        catch (OperationCanceledException)
        {
            return true;
        }
        catch (FleetLightException failed)
        {
            await FailAsync(failed);
            return failed is ProblemException { IsPassing: false };
        }
    }

    private async Task FailAsync(FleetLightException failed)
    {
        trouble = await Session.FailedAsync(failed);
        if (!gone.IsCancellationRequested) StateHasChanged();
    }
}
