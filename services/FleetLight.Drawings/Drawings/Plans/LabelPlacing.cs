namespace FleetLight.PageParts.Drawings.Plans;

/// <summary>A rectangle on the screen, CSS pixels.</summary>
public readonly record struct Box(double Left, double Top, double Width, double Height)
{
    /// <summary>Whether two of them share ground.</summary>
    public bool Overlaps(Box other) =>
        Left < other.Left + other.Width && other.Left < Left + Width && Top < other.Top + other.Height && other.Top < Top + Height;

    /// <summary>Whether the other lies wholly within.</summary>
    public bool Holds(Box other) =>
        other.Left >= Left && other.Top >= Top && other.Left + other.Width <= Left + Width && other.Top + other.Height <= Top + Height;
}

/// <summary>A label as placed.</summary>
/// <param name="Index">Which of the wanted ones.</param>
/// <param name="Box">Where.</param>
public sealed record PlacedLabel(int Index, Box Box);

/// <summary>
/// Places labels one after the other where nothing stands yet: right of the thing, left, above, below, then aslant. One that finds
/// no place is left out; the list beside the plan names the thing all the same.
/// </summary>
public static class LabelPlacing
{
    /// <summary>Height of a label, CSS pixels.</summary>
    public const double Height = 15;

    private const double Apart = 12;

    // Where the label stands, as shares of its own width and height and as steps away from the thing.
    private static readonly (double Across, double Down, int Right, int Below)[] Sides =
    [
        (0, -0.5, 1, 0), (-1, -0.5, -1, 0), (-0.5, -1, 0, -1), (-0.5, 0, 0, 1), (0, -1, 1, -1), (0, 0, 1, 1), (-1, -1, -1, -1), (-1, 0, -1, 1),
    ];

    /// <summary>The labels that find a place.</summary>
    /// <param name="wanted">Where the things are, and their words; the weightiest first.</param>
    /// <param name="taken">Where nothing may be put: the signs of things.</param>
    /// <param name="within">The screen.</param>
    public static IReadOnlyList<PlacedLabel> Place(IReadOnlyList<(Point At, string Text)> wanted, IEnumerable<Box> taken, Box within)
    {
        ArgumentNullException.ThrowIfNull(wanted);
        var ground = taken.ToList();
        var placed = new List<PlacedLabel>();
        for (var i = 0; i < wanted.Count; i++)
        {
            var (at, text) = wanted[i];
            var width = WidthOf(text);
            foreach (var (across, down, right, below) in Sides)
            {
                var box = new Box(at.X + (across * width) + (right * Apart), at.Y + (down * Height) + (below * Apart), width, Height);
                if (!within.Holds(box) || ground.Exists(box.Overlaps)) continue;
                ground.Add(box);
                placed.Add(new PlacedLabel(i, box));
                break;
            }
        }

        return placed;
    }

    // Of letters of 12 pixels in a wide font: which one a reader's machine has is not known.
    private static double WidthOf(string text) => text.Sum(letter => letter switch
    {
        >= 'A' and <= 'Z' => 8.4,
        >= '0' and <= '9' => 7.6,
        '-' or '.' or ',' or ' ' => 4.4,
        _ => 7.2,
    });
}
