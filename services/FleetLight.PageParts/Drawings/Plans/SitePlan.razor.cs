using FleetLight.Contracts;
using FleetLight.PageParts.Wording;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.JSInterop;

namespace FleetLight.PageParts.Drawings.Plans;

/// <summary>Draws a site's plan, to be moved and enlarged by buttons, fingers, wheel and keys.</summary>
public partial class SitePlan
{
    private const double Step = 60;

    private ElementReference screen;
    private IReadOnlyList<PlanThing>? drawn;
    private IReadOnlyList<PlanThing> unplaced = [];
    private IReadOnlyList<(string Service, string Pattern)> services = [];
    private LocalProjection projection = LocalProjection.Around([]);
    private IReadOnlyList<PlanMetres> extent = [];
    private PlanView? view;
    private PlanLayout? layout;
    private PlanThing? chosen;
    private double scaleMetres;
    private bool watched;
    private bool spreads;

    /// <summary>What is on the site.</summary>
    [Parameter]
    [EditorRequired]
    public required IReadOnlyList<PlanThing> Things { get; set; }

    /// <summary>A thing was chosen.</summary>
    [Parameter]
    public EventCallback<PlanThing> OnThing { get; set; }

    /// <summary>A duct that was chosen elsewhere on the page; it is marked here too.</summary>
    [Parameter]
    public string? ChosenDuct { get; set; }

    private string Summary => $"Plan of the site: {Things.Count - unplaced.Count} things, {unplaced.Count} more without a position. "
        + "Arrow keys move it, plus and minus change its size, zero shows all of it, Enter chooses what is nearest to the middle. "
        + "The list below names everything on it.";

    /// <summary>Fingers or wheel came to rest.</summary>
    /// <param name="scale">By how much they enlarged it.</param>
    /// <param name="shiftX">Where its left edge came to lie, CSS pixels.</param>
    /// <param name="shiftY">Where its upper edge came to lie, CSS pixels.</param>
    [JSInvokable]
    public void Gestured(double scale, double shiftX, double shiftY)
    {
        if (view is null) return;
        view = view.Zoomed(scale, new Point(0, 0)).Moved(shiftX, shiftY);
        Lay();
        StateHasChanged();
    }

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        if (ChosenDuct is not null) chosen = Things.FirstOrDefault(thing => thing.Kind == PlanKind.Duct && thing.Id == ChosenDuct);
        if (ReferenceEquals(drawn, Things)) return;
        var first = drawn is null || view is null;
        drawn = Things;
        unplaced = [.. Things.Where(thing => thing.Positions.Count == 0)];
        services =
        [
            .. Things.Where(thing => thing is { Kind: PlanKind.Duct, Positions.Count: > 1 }).Select(thing => thing.Service).Distinct().Order()
                .Select(service => (service is { } known ? PlainWords.Of(known) : "What it is for is not recorded", Pattern(service))),
        ];
        var positions = Things.SelectMany(thing => thing.Positions).ToList();
        projection = LocalProjection.Around(positions);
        extent = [.. positions.Select(at => projection.Of(at.Longitude, at.Latitude))];
        if (positions.Count == 0)
        {
            (view, layout) = (null, null);
            return;
        }

        // New states of the same things must not throw the person back to the beginning.
        if (first) view = PlanView.Fitting(extent, WidthPixels, HeightPixels);
        Lay();
    }

    /// <inheritdoc/>
    protected override void OnWidened()
    {
        if (view is null) return;
        view = PlanView.Fitting(extent, WidthPixels, HeightPixels);
        Lay();
    }

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        await base.OnAfterRenderAsync(firstRender);
        if (watched || view is null) return;
        watched = true;
        await WatchAsync("plan.js", screen);
        await WatchAsync("keys.js", screen);
    }

    private double HeightPixels => Math.Clamp(WidthPixels * 0.7, 280, 640);

    private void Lay()
    {
        layout = PlanLayout.Of(Things, projection, view!);
        scaleMetres = view!.ScaleMetres(WidthPixels / 3);
        spreads = layout.Points.Any(point => point.Thing.Ellipse?.ShowsAt(view.PixelsPerMetre) == true);
    }

    private void Zoom(double factor)
    {
        view = view!.Zoomed(factor);
        Lay();
    }

    private void ShowAll() => OnWidened();

    private async Task Pressed(KeyboardEventArgs pressed)
    {
        if (pressed.Key == "Enter")
        {
            if (Nearest() is { } nearest) await ChooseAsync(nearest);
            return;
        }

        if (pressed.Key == "0")
        {
            ShowAll();
            return;
        }

        view = pressed.Key switch
        {
            "ArrowLeft" => view!.Moved(Step, 0),
            "ArrowRight" => view!.Moved(-Step, 0),
            "ArrowUp" => view!.Moved(0, Step),
            "ArrowDown" => view!.Moved(0, -Step),
            "+" or "=" => view!.Zoomed(1.5),
            "-" => view!.Zoomed(1 / 1.5),
            _ => view,
        };
        Lay();
    }

    // What lies nearest to the middle of what is shown, signs and ways alike.
    private PlanThing? Nearest()
    {
        var middle = new Point(view!.WidthPixels / 2, view.HeightPixels / 2);
        return layout!.Points.Concat(layout.Ways).MinBy(placed => placed.Points.Count == 1 ? Far(placed.Points[0]) : placed.Points.Zip(placed.Points.Skip(1)).Min(Beside))?.Thing;

        double Far(Point at) => Math.Sqrt(((at.X - middle.X) * (at.X - middle.X)) + ((at.Y - middle.Y) * (at.Y - middle.Y)));

        double Beside((Point From, Point To) part)
        {
            var (across, down) = (part.To.X - part.From.X, part.To.Y - part.From.Y);
            var square = (across * across) + (down * down);
            var along = square > 0 ? Math.Clamp((((middle.X - part.From.X) * across) + ((middle.Y - part.From.Y) * down)) / square, 0, 1) : 0;
            return Far(new Point(part.From.X + (along * across), part.From.Y + (along * down)));
        }
    }

    private async Task ChooseAsync(PlanThing thing)
    {
        chosen = thing;
        await OnThing.InvokeAsync(thing);
    }

    private static string KeyOf(PlanThing thing) => $"{thing.Kind}:{thing.Id}:{thing.CircuitId}";

    private string Chosen(PlanThing thing) => thing == chosen ? " chosen" : "";

    private static string KindWord(PlanKind kind) => kind == PlanKind.ReferencePoint ? "Reference point" : kind.ToString();

    private static string Length(double metres) =>
        metres >= 1000 ? $"{Figures.Plain(metres / 1000)} km"
        : metres < 1 ? $"{Figures.Plain(metres * 100)} cm" : $"{Figures.Plain(metres)} m";

    private static string Pattern(DuctService? service) => service is { } known ? "for-" + Record.Files.Words.Of(known) : "for-unknown";

    private static string ColourOf(DuctColour? colour) => colour is { } known ? "is-" + Record.Files.Words.Of(known) : "is-other";
}
