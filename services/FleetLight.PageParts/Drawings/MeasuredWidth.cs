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

    private IJSObjectReference? module;
    private IJSObjectReference? watch;
    private DotNetObjectReference<MeasuredWidth>? self;

    [Inject]
    private IJSRuntime Js { get; set; } = default!;

    /// <summary>The element whose width counts.</summary>
    protected ElementReference Frame { get; set; }

    /// <summary>The width, CSS pixels.</summary>
    protected double WidthPixels { get; private set; } = Phone;

    /// <summary>The browser tells the width.</summary>
    [JSInvokable]
    public void Widened(double pixels)
    {
        if (pixels < 1 || Math.Abs(pixels - WidthPixels) < LeastChange) return;
        WidthPixels = pixels;
        OnWidened();
        StateHasChanged();
    }

    /// <summary>Lays out again.</summary>
    protected abstract void OnWidened();

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!firstRender) return;
        self = DotNetObjectReference.Create(this);
        module = await Js.InvokeAsync<IJSObjectReference>("import", "./_content/FleetLight.PageParts/width.js");
        watch = await module.InvokeAsync<IJSObjectReference>("watch", Frame, self);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        try
        {
            if (watch is not null)
            {
                await watch.InvokeVoidAsync("stop");
                await watch.DisposeAsync();
            }

            if (module is not null) await module.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // The window is closed: there is nothing left to stop.
        }

        self?.Dispose();
    }
}
