using Microsoft.AspNetCore.Components;
using static FleetLight.PageParts.Drawings.SvgText;

namespace FleetLight.PageParts.Drawings.Circuits;

/// <summary>Draws a circuit in order, with suspect places, the next place to measure, and what should be read.</summary>
public partial class CircuitDrawing
{
    // How far the strokes of a lamp's cross reach: the radius at 45 degrees.
    private const double Cross = 8.5;
    private const double Lamp = 12;

    private readonly string key = "circuit-" + Guid.NewGuid().ToString("N")[..8];
    private CircuitTree? tree;
    private CircuitText? text;
    private CircuitLayout? layout;
    private CircuitParts? drawn;
    private string? shown;
    private bool changed;

    /// <summary>What is drawn.</summary>
    [Parameter]
    [EditorRequired]
    public required CircuitParts Parts { get; set; }

    /// <summary>A place was chosen: <c>driver</c>, a fitting or a box.</summary>
    [Parameter]
    public EventCallback<string> OnPlace { get; set; }

    /// <summary>The place that is chosen, if any.</summary>
    [Parameter]
    public string? Chosen { get; set; }

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        changed |= shown != Chosen;
        shown = Chosen;
        if (ReferenceEquals(drawn, Parts)) return;
        tree = Parts.Circuit is { } circuit && (drawn?.Circuit != circuit || tree is null) ? CircuitTree.Of(circuit) : Parts.Circuit is null ? null : tree;
        drawn = Parts;
        text = new CircuitText(Parts);
        OnWidened();
    }

    /// <inheritdoc/>
    protected override void OnWidened()
    {
        layout = tree is null || text is null ? null : CircuitLayout.Of(tree, text, WidthPixels);
        changed = true;
    }

    // The page around it is rendered at every keystroke; two hundred fittings need not be.
    /// <inheritdoc/>
    protected override bool ShouldRender() => changed;

    /// <inheritdoc/>
    protected override Task OnAfterRenderAsync(bool firstRender)
    {
        changed = false;
        return base.OnAfterRenderAsync(firstRender);
    }

    private string RunClass(DrawnRun run) => (run.To.Run, run.To.Run is { } known && text!.SuspectAt(known.RunId) is not null) switch
    {
        (null, _) => "run unrecorded",
        (_, true) => "run doubted",
        _ => "run",
    };

    private string PlaceClass(DrawnPlace place) =>
        (OnPlace.HasDelegate ? "place open" : "place") + (place.Node.Id == Chosen ? " chosen" : "");

    private static string DriverPath(Point at) =>
        $"M{N(at.X - 13)} {N(at.Y - 13)} h26 v26 h-26 Z M{N(at.X - 13)} {N(at.Y + 13)} l26 -26";

    private static string LampPath(Point at) =>
        $"M{N(at.X - Lamp)} {N(at.Y)} a{Lamp} {Lamp} 0 1 0 {2 * Lamp} 0 a{Lamp} {Lamp} 0 1 0 {-2 * Lamp} 0 "
        + $"M{N(at.X - Cross)} {N(at.Y - Cross)} l{N(2 * Cross)} {N(2 * Cross)} M{N(at.X - Cross)} {N(at.Y + Cross)} l{N(2 * Cross)} {N(-2 * Cross)}";

    private static string Diamond(Point at) => $"M{N(at.X)} {N(at.Y - 21)} l21 21 l-21 21 l-21 -21 Z";

    private static string Brackets(Point at) =>
        $"M{N(at.X - 12)} {N(at.Y - 18)} h-8 v36 h8 M{N(at.X + 12)} {N(at.Y - 18)} h8 v36 h-8";

    // Points out of the row where the line leaves it, and into the row where it goes on.
    private static string BreakPath(DrawnBreak sign) => $"M{N(sign.At.X - 11)} {N(sign.At.Y - 9)} h15 l7 9 l-7 9 h-15 Z";
}
