namespace FleetLight.PageParts.Drawings.Plans;

/// <summary>A thing as it stands on the screen.</summary>
/// <param name="Thing">The thing.</param>
/// <param name="Points">Where: one point, or the way of a duct.</param>
public sealed record PlacedThing(PlanThing Thing, IReadOnlyList<Point> Points)
{
    /// <summary>Where its label belongs: at a point, or in the middle of a way.</summary>
    public Point Anchor => Points[Points.Count / 2] is var at && Points.Count > 1
        ? new Point((Points[(Points.Count / 2) - 1].X + at.X) / 2, (Points[(Points.Count / 2) - 1].Y + at.Y) / 2)
        : Points[0];
}

/// <summary>A label of a thing.</summary>
/// <param name="Thing">The thing.</param>
/// <param name="Text">What it says.</param>
/// <param name="At">Where its base line begins.</param>
public sealed record PlanLabel(PlanThing Thing, string Text, Point At);

/// <summary>A plan as it stands on the screen.</summary>
public sealed class PlanLayout
{
    private const double Sign = 11;
    private const int LongestLabel = 26;

    private PlanLayout(IReadOnlyList<PlacedThing> ways, IReadOnlyList<PlacedThing> points, IReadOnlyList<PlanLabel> labels) =>
        (Ways, Points, Labels) = (ways, points, labels);

    /// <summary>Ducts.</summary>
    public IReadOnlyList<PlacedThing> Ways { get; }

    /// <summary>Boxes, fittings and drivers, those that matter most last, on top.</summary>
    public IReadOnlyList<PlacedThing> Points { get; }

    /// <summary>Labels that found a place.</summary>
    public IReadOnlyList<PlanLabel> Labels { get; }

    /// <summary>The things on the screen.</summary>
    /// <param name="things">Things with a position.</param>
    /// <param name="projection">Degrees to metres.</param>
    /// <param name="view">What is on the screen.</param>
    public static PlanLayout Of(IEnumerable<PlanThing> things, LocalProjection projection, PlanView view)
    {
        ArgumentNullException.ThrowIfNull(projection);
        ArgumentNullException.ThrowIfNull(view);
        var placed = things.Where(thing => thing.Positions.Count > 0)
            .Select(thing => new PlacedThing(thing, [.. thing.Positions.Select(at => view.Of(projection.Of(at.Longitude, at.Latitude)))])).ToList();
        var ways = placed.Where(thing => thing.Points.Count > 1).ToList();
        var points = placed.Where(thing => thing.Points.Count == 1).OrderByDescending(thing => thing.Thing.Kind).ToList();
        var screen = new Box(0, 0, view.WidthPixels, view.HeightPixels);
        // Drivers first, then boxes, fittings, ducts: the order of the kinds.
        var wanted = placed.Where(thing => IsWithin(screen, thing.Anchor)).OrderBy(thing => thing.Thing.Kind).ToList();
        var texts = wanted.Select(thing => (thing.Anchor, Text(thing.Thing))).ToList();
        var signs = points.Where(thing => IsWithin(screen, thing.Anchor)).Select(thing => new Box(thing.Anchor.X - Sign, thing.Anchor.Y - Sign, 2 * Sign, 2 * Sign));
        var labels = LabelPlacing.Place(texts, signs, screen);
        return new PlanLayout(
            ways, points,
            [.. labels.Select(label => new PlanLabel(wanted[label.Index].Thing, texts[label.Index].Item2, new Point(label.Box.Left, label.Box.Top + LabelPlacing.Height - 3)))]);
    }

    private static string Text(PlanThing thing) => thing.Name.Length <= LongestLabel ? thing.Name : string.Concat(thing.Name.AsSpan(0, LongestLabel - 1), "…");

    private static bool IsWithin(Box screen, Point at) => screen.Holds(new Box(at.X, at.Y, 0, 0));
}
