using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;

namespace FleetLight.PageParts.Drawings;

/// <summary>
/// A component that lays itself out by the width it has on the screen, which only the browser knows. Until it has told, a phone's
/// width is taken.
/// </summary>
public abstract class MeasuredWidth : ComponentBase, IAsyncDisposable
{
    private const double Phone = 328;

    // A scroll bar that comes and goes must not lay everything out again and again.
    private const double LeastChange = 8;

    private readonly List<IJSObjectReference> kept = [];
    private double measured = Phone;
    private DotNetObjectReference<MeasuredWidth>? self;

    [Inject]
    private IJSRuntime Js { get; set; } = default!;

    /// <summary>The element whose width counts.</summary>
    protected ElementReference Frame { get; set; }

    /// <summary>A width that is given, CSS pixels: for paper, where nothing can be measured.</summary>
    [Parameter]
    public double? Width { get; set; }

    /// <summary>The width, CSS pixels.</summary>
    protected double WidthPixels => Width ?? measured;

    /// <summary>The browser tells the width.</summary>
    [JSInvokable]
    public void Widened(double pixels)
    {
        if (pixels < 1 || Width is not null || Math.Abs(pixels - measured) < LeastChange) return;
        measured = pixels;
        OnWidened();
        StateHasChanged();
    }

    /// <summary>Lays out again.</summary>
    protected abstract void OnWidened();

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (firstRender && Width is null) await WatchAsync("width.js", Frame);
    }

    /// <summary>Lets a script of ours watch an element until the component goes.</summary>
    /// <param name="file">The script's file: it has a function <c>watch</c>, which answers something with a function <c>stop</c>.</param>
    /// <param name="element">The element.</param>
    protected async Task WatchAsync(string file, ElementReference element)
    {
        self ??= DotNetObjectReference.Create(this);
        await using var module = await Js.InvokeAsync<IJSObjectReference>("import", $"./_content/FleetLight.PageParts/{file}");
        kept.Add(await module.InvokeAsync<IJSObjectReference>("watch", element, self));
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        try
        {
            foreach (var watch in kept)
            {
                await watch.InvokeVoidAsync("stop");
                await watch.DisposeAsync();
            }
        }
        catch (JSDisconnectedException)
        {
            // The window is closed: there is nothing left to stop.
        }

        self?.Dispose();
    }
}
