using System.Globalization;
using FleetLight.PageParts.Fleet;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;

namespace FleetLight.Office.Fleet;

/// <summary>The plan of the sites.</summary>
public sealed partial class SitePlan : ComponentBase
{
    private const double Width = 900;
    private const double Height = 440;

    private PlanWindow? window;
    private PlanLayout layout = new(new PlanWindow(0, 0, 1000), Width, Height);
    private IReadOnlyList<PlanMark> marks = [];
    private (double Pixels, string Says) scale;

    /// <summary>The sites that have a position.</summary>
    [Parameter, EditorRequired]
    public IReadOnlyList<PlanSite> Sites { get; set; } = [];

    /// <summary>Number of sites that have none.</summary>
    [Parameter]
    public int Without { get; set; }

    private PlanWindow Shown => window ?? PlanLayout.Around(Sites, Width, Height);

    /// <inheritdoc/>
    protected override void OnParametersSet() => LayOut();

    private void LayOut()
    {
        layout = new PlanLayout(Shown, Width, Height);
        marks = layout.Marks(Sites);
        scale = layout.Scale();
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
