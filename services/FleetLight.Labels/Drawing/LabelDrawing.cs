namespace FleetLight.Labels.Drawing;

/// <summary>A point on a drawing, mm from its left and upper edge.</summary>
/// <param name="X">From the left, mm.</param>
/// <param name="Y">From above, mm.</param>
public readonly record struct Spot(double X, double Y);

/// <summary>A filled rectangle.</summary>
/// <param name="X">Left edge, mm.</param>
/// <param name="Y">Upper edge, mm.</param>
/// <param name="Width">Width, mm.</param>
/// <param name="Height">Height, mm.</param>
public readonly record struct Block(double X, double Y, double Width, double Height);

/// <summary>A line drawn with a round pen.</summary>
/// <param name="Points">Where it goes, mm.</param>
/// <param name="Width">Width of the pen, mm.</param>
public sealed record Line(IReadOnlyList<Spot> Points, double Width);

/// <summary>What is drawn, in millimetres as printed: dark on a light ground, and nothing else.</summary>
/// <param name="Width">Width, mm.</param>
/// <param name="Height">Height, mm.</param>
/// <param name="Blocks">Filled rectangles.</param>
/// <param name="Lines">Lines.</param>
public sealed record LabelDrawing(double Width, double Height, IReadOnlyList<Block> Blocks, IReadOnlyList<Line> Lines)
{
    /// <summary>The same further right and down.</summary>
    /// <param name="right">mm.</param>
    /// <param name="down">mm.</param>
    public LabelDrawing Moved(double right, double down) => this with
    {
        Blocks = [.. Blocks.Select(block => block with { X = block.X + right, Y = block.Y + down })],
        Lines = [.. Lines.Select(line => line with { Points = [.. line.Points.Select(spot => new Spot(spot.X + right, spot.Y + down))] })],
    };

    /// <summary>What lies furthest out: left, upper, right and lower edge of all that is drawn, mm; none where nothing is.</summary>
    public (double Left, double Top, double Right, double Bottom)? Extent()
    {
        var spots = Blocks.SelectMany(block => new[] { (block.X, block.Y, 0.0), (block.X + block.Width, block.Y + block.Height, 0.0) })
            .Concat(Lines.SelectMany(line => line.Points.Select(spot => (spot.X, spot.Y, line.Width / 2))))
            .ToList();
        if (spots.Count == 0) return null;
        return (spots.Min(spot => spot.Item1 - spot.Item3), spots.Min(spot => spot.Item2 - spot.Item3),
            spots.Max(spot => spot.Item1 + spot.Item3), spots.Max(spot => spot.Item2 + spot.Item3));
    }
}
