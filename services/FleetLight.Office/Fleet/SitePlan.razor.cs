using System.Globalization;
using FleetLight.PageParts.Drawings;
using FleetLight.PageParts.Drawings.Plans;
using FleetLight.PageParts.Fleet;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.JSInterop;
using PlanLayout = FleetLight.PageParts.Fleet.PlanLayout;

namespace FleetLight.Office.Fleet;

/// <summary>The plan of the sites.</summary>
public sealed partial class SitePlan : ComponentBase, IAsyncDisposable
{
    private const double WidthOnADesk = 900;
    private const double HeightOnADesk = 440;

    // A window narrower than this gets a plan as wide as itself: one drawn smaller would have marks too small to touch.
    private const double Narrow = 640;
    private const double Margins = 32;

    // More names than these are no help: the list beside the plan has them all.
    private const int MostNames = 25;
    private const double SignReach = 11;
    private const double NameBase = LabelPlacing.Height - 3;

    // So much of the picture one press of an arrow key moves.
    private const double StepShare = 0.15;

    private ElementReference screen;
    private IJSObjectReference? keys;
    private PlanWindow? window;
    private string? only;
    private PlanLayout layout = new(new PlanWindow(0, 0, 1000), WidthOnADesk, HeightOnADesk);
    private IReadOnlyList<PlanMark> marks = [];
    private IReadOnlyDictionary<string, Box> names = new Dictionary<string, Box>();
    private (double Pixels, string Says) scale;

    [Inject]
    private IJSRuntime Browser { get; set; } = null!;

    /// <summary>The sites that have a position.</summary>
    [Parameter, EditorRequired]
    public IReadOnlyList<PlanSite> Sites { get; set; } = [];

    /// <summary>Number of sites that have none.</summary>
    [Parameter]
    public int Without { get; set; }

    private double Width { get; set; } = WidthOnADesk;

    private double Height { get; set; } = HeightOnADesk;

    // Those of the verdict whose sign was pressed below the plan; all where none was. The plan itself stays where it is.
    private IReadOnlyList<PlanSite> Kept => only is null ? Sites : [.. Sites.Where(site => site.Worst == only)];

    private PlanWindow Shown => window ?? PlanLayout.Around(Sites, Width, Height);

    /// <inheritdoc/>
    protected override void OnParametersSet() => LayOut();

    /// <inheritdoc/>
    protected override async Task OnInitializedAsync()
    {
        var wide = await Browser.GetValueAsync<double>("document.documentElement.clientWidth");
        if (wide >= Narrow) return;
        (Width, Height) = (Math.Max(280, wide - Margins), 360);
        LayOut();
    }

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!firstRender) return;
        await using var module = await Browser.InvokeAsync<IJSObjectReference>("import", "./_content/FleetLight.PageParts/keys.js");
        keys = await module.InvokeAsync<IJSObjectReference>("watch", screen);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        if (keys is null) return;
        await keys.InvokeVoidAsync("stop");
        await keys.DisposeAsync();
    }

    private void Pressed(KeyboardEventArgs pressed)
    {
        var (right, down) = pressed.Key switch
        {
            "ArrowLeft" => (-StepShare * Width, 0.0),
            "ArrowRight" => (StepShare * Width, 0.0),
            "ArrowUp" => (0.0, -StepShare * Height),
            "ArrowDown" => (0.0, StepShare * Height),
            _ => (0.0, 0.0),
        };
        if (right != 0 || down != 0)
        {
            var (longitude, latitude) = layout.Position((Width / 2) + right, (Height / 2) + down);
            window = Shown with { Longitude = longitude, Latitude = latitude };
            LayOut();
        }
        else if (pressed.Key is "+" or "=") Zoom(0.5);
        else if (pressed.Key == "-") Zoom(2);
        else if (pressed.Key == "0") Whole();
    }

    private void LayOut()
    {
        layout = new PlanLayout(Shown, Width, Height);
        marks = layout.Marks(Kept);
        scale = layout.Scale();
        names = Names();
    }

    // Names where they hide neither a mark nor one another, those of the worst sites first.
    private Dictionary<string, Box> Names()
    {
        if (marks.Count > MostNames) return [];
        var single = marks.Reverse().Where(mark => mark.Sites.Count == 1).ToList();
        var taken = marks.Select(mark => mark.Sites.Count == 1 ? Around(mark, SignReach, SignReach) : Around(mark, 24, 14))
            .Append(new Box(Width - 20 - scale.Pixels, 0, scale.Pixels + 20, 30));
        return LabelPlacing.Place([.. single.Select(mark => (new Point(mark.X, mark.Y), mark.Sites[0].Name))], taken, new Box(0, 0, Width, Height))
            .ToDictionary(label => single[label.Index].Sites[0].Id, label => label.Box, StringComparer.Ordinal);
    }

    // Held at the side of the mark: how wide letters come out is a guess.
    private static (double X, string Anchor) Anchor(Box name, PlanMark mark) =>
        name.Left >= mark.X ? (name.Left, "start")
        : name.Left + name.Width <= mark.X ? (name.Left + name.Width, "end")
        : (name.Left + (name.Width / 2), "middle");

    private static Box Around(PlanMark mark, double across, double down) => new(mark.X - across, mark.Y - down, 2 * across, 2 * down);

    private void Only(string verdict)
    {
        only = only == verdict ? null : verdict;
        LayOut();
    }

    private void Zoom(double factor)
    {
        window = Shown with { MetresPerPixel = Math.Clamp(Shown.MetresPerPixel * factor, 0.2, 100_000) };
        LayOut();
    }

    private void Whole()
    {
        window = null;
        LayOut();
    }

    private void Into(PlanMark mark)
    {
        var around = PlanLayout.Around([.. mark.Sites], Width, Height);
        // Sites on one spot come no farther apart: half as far at least, so that something happens.
        window = around with { MetresPerPixel = Math.Min(around.MetresPerPixel, Shown.MetresPerPixel / 2) };
        LayOut();
    }

    private void OnKey(KeyboardEventArgs key, PlanMark mark)
    {
        if (key.Key is "Enter" or " ") Into(mark);
    }

    private static string Text(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    // The same picture language as everywhere: a full mark that sits where it should, one at the edge, one beside it.
    private static RenderFragment Shape(string verdict, double x, double y) => builder => builder.AddMarkupContent(0, verdict switch
    {
        "outside" => $"<path class=\"full\" d=\"M{Text(x)} {Text(y - 9)} l9 9 l-9 9 l-9 -9 z\" />",
        "doubtful" => $"<circle class=\"edge\" cx=\"{Text(x)}\" cy=\"{Text(y)}\" r=\"7\" /><path class=\"full\" d=\"M{Text(x)} {Text(y - 7)} a7 7 0 0 1 0 14 z\" />",
        "within" => $"<circle class=\"full\" cx=\"{Text(x)}\" cy=\"{Text(y)}\" r=\"6\" />",
        "unread" => $"<circle class=\"edge dashes\" cx=\"{Text(x)}\" cy=\"{Text(y)}\" r=\"6\" />",
        _ => $"<circle class=\"edge\" cx=\"{Text(x)}\" cy=\"{Text(y)}\" r=\"6\" /><path class=\"edge\" d=\"M{Text(x - 3)} {Text(y)} h6\" />",
    });
}
