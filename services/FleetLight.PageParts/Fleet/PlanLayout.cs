namespace FleetLight.PageParts.Fleet;

/// <summary>A site on a plan.</summary>
/// <param name="Id">The site.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Longitude">Degrees WGS 84.</param>
/// <param name="Latitude">Degrees WGS 84.</param>
/// <param name="Worst">The contract's word of the worst verdict on it.</param>
public sealed record PlanSite(string Id, string Name, double Longitude, double Latitude, string Worst);

/// <summary>What part of the ground a plan shows: its middle, and how much of it a pixel is.</summary>
/// <param name="Longitude">Of the middle, degrees.</param>
/// <param name="Latitude">Of the middle, degrees.</param>
/// <param name="MetresPerPixel">How many metres a pixel is.</param>
public sealed record PlanWindow(double Longitude, double Latitude, double MetresPerPixel);

/// <summary>A mark on a plan: a site, or several that stand too close to be told apart.</summary>
/// <param name="X">Pixels from the left.</param>
/// <param name="Y">Pixels from the top.</param>
/// <param name="Sites">The sites, the worst first.</param>
public sealed record PlanMark(double X, double Y, IReadOnlyList<PlanSite> Sites)
{
    /// <summary>The worst verdict among them.</summary>
    public string Worst => Sites[0].Worst;
}

/// <summary>A line of the graticule.</summary>
/// <param name="At">Pixels from the left, or from the top.</param>
/// <param name="Says">Its degrees.</param>
public sealed record PlanLine(double At, string Says);

/// <summary>
/// Lays sites out on a plan: an equirectangular projection about the middle of the window, true to scale there; good to 1 % over
/// 100 km at the latitudes where people live. No outside map is asked for.
/// </summary>
public sealed class PlanLayout
{
    /// <summary>Metres a degree of latitude is, by the mean radius of the earth (6,371,008.8 m, IUGG).</summary>
    public const double MetresPerDegree = 111_195.08;

    // Marks whose middles lie closer are one: as wide and as high as the mark of several is.
    private const double ClosestAcross = 52;
    private const double ClosestDown = 32;

    private static readonly string[] WorstFirst = ["outside", "doubtful", "cannot-be-judged", "unread", "within"];
    private static readonly double[] Steps = [1, 2, 5];

    private readonly PlanWindow window;
    private readonly double cosine;

    /// <summary>A plan of that size.</summary>
    /// <param name="window">What part of the ground it shows.</param>
    /// <param name="width">Pixels.</param>
    /// <param name="height">Pixels.</param>
    public PlanLayout(PlanWindow window, double width, double height)
    {
        (this.window, Width, Height) = (window, width, height);
        cosine = Math.Max(0.01, Math.Cos(window.Latitude * Math.PI / 180));
    }

    /// <summary>Pixels.</summary>
    public double Width { get; }

    /// <summary>Pixels.</summary>
    public double Height { get; }

    /// <summary>The window that shows all of these sites with some room about them.</summary>
    public static PlanWindow Around(IReadOnlyCollection<PlanSite> sites, double width, double height)
    {
        if (sites.Count == 0) return new PlanWindow(0, 0, 1000);
        var (west, east) = (sites.Min(site => site.Longitude), sites.Max(site => site.Longitude));
        var (south, north) = (sites.Min(site => site.Latitude), sites.Max(site => site.Latitude));
        var middle = (south + north) / 2;
        var wide = (east - west) * MetresPerDegree * Math.Cos(middle * Math.PI / 180);
        var high = (north - south) * MetresPerDegree;
        var room = Math.Min(70, width / 8);
        return new PlanWindow((west + east) / 2, middle, Math.Max(0.5, Math.Max(wide / (width - (2 * room)), high / (height - (2 * room)))));
    }

    /// <summary>Where a position lies, in pixels.</summary>
    public (double X, double Y) Place(double longitude, double latitude) => (
        (Width / 2) + ((longitude - window.Longitude) * MetresPerDegree * cosine / window.MetresPerPixel),
        (Height / 2) - ((latitude - window.Latitude) * MetresPerDegree / window.MetresPerPixel));

    /// <summary>The position of a place on the plan, in degrees.</summary>
    public (double Longitude, double Latitude) Position(double x, double y) => (
        window.Longitude + ((x - (Width / 2)) * window.MetresPerPixel / MetresPerDegree / cosine),
        window.Latitude - ((y - (Height / 2)) * window.MetresPerPixel / MetresPerDegree));

    /// <summary>How bad a verdict is, the worst 0.</summary>
    public static int Rank(string verdict) => Array.IndexOf(WorstFirst, verdict) is >= 0 and var rank ? rank : WorstFirst.Length;

    /// <summary>The marks in the window, worst sites drawn last so that they lie on top.</summary>
    public IReadOnlyList<PlanMark> Marks(IEnumerable<PlanSite> sites)
    {
        var cells = new Dictionary<(int, int), List<(double X, double Y, PlanSite Site)>>();
        foreach (var site in sites)
        {
            var (x, y) = Place(site.Longitude, site.Latitude);
            if (x < 0 || y < 0 || x > Width || y > Height) continue;
            var cell = ((int)(x / ClosestAcross), (int)(y / ClosestDown));
            if (!cells.TryGetValue(cell, out var there)) cells[cell] = there = [];
            there.Add((x, y, site));
        }

        var marks = cells.OrderBy(cell => cell.Key).Select(cell => Join(cell.Value)).ToList();
        // Neighbours across the edge of a cell may still touch, and two that are joined may come to touch a third.
        bool joined;
        do joined = JoinNeighbours(marks);
        while (joined);

        return [.. marks.OrderByDescending(mark => Rank(mark.Worst))];
    }

    private bool JoinNeighbours(List<PlanMark> marks)
    {
        var before = marks.Count;
        for (var index = 0; index < marks.Count; index++)
        {
            for (var other = marks.Count - 1; other > index; other--)
            {
                if (Math.Abs(marks[index].X - marks[other].X) >= ClosestAcross || Math.Abs(marks[index].Y - marks[other].Y) >= ClosestDown) continue;
                marks[index] = Join(
                [
                    .. marks[index].Sites.Concat(marks[other].Sites).Select(site =>
                    {
                        var (x, y) = Place(site.Longitude, site.Latitude);
                        return (x, y, site);
                    }),
                ]);
                marks.RemoveAt(other);
            }
        }

        return marks.Count < before;
    }

    /// <summary>Lines of longitude in the window, at round degrees.</summary>
    public IReadOnlyList<PlanLine> Meridians()
    {
        var (west, _) = Position(0, 0);
        var (east, _) = Position(Width, 0);
        return [.. Between(west, east).Select(degrees => new PlanLine(Place(degrees, window.Latitude).X, Say(degrees, east - west, "E", "W")))];
    }

    /// <summary>Lines of latitude in the window, at round degrees.</summary>
    public IReadOnlyList<PlanLine> Parallels()
    {
        var (_, north) = Position(0, 0);
        var (_, south) = Position(0, Height);
        return [.. Between(south, north).Select(degrees => new PlanLine(Place(window.Longitude, degrees).Y, Say(degrees, north - south, "N", "S")))];
    }

    /// <summary>A round length for the scale: how long it is on the plan in pixels, and what it says.</summary>
    public (double Pixels, string Says) Scale()
    {
        var metres = Round(window.MetresPerPixel * 160);
        return (metres / window.MetresPerPixel, metres >= 1000 ? FormattableString.Invariant($"{metres / 1000:0.#} km") : FormattableString.Invariant($"{metres:0.#} m"));
    }

    private static PlanMark Join(List<(double X, double Y, PlanSite Site)> there) => new(
        there.Average(each => each.X), there.Average(each => each.Y),
        [.. there.Select(each => each.Site).OrderBy(site => Rank(site.Worst)).ThenBy(site => site.Name, StringComparer.Ordinal)]);

    private static IEnumerable<double> Between(double from, double to)
    {
        var step = StepOf(to - from);
        for (var line = (long)Math.Ceiling(from / step); line * step <= to; line++) yield return line * step;
    }

    private static double StepOf(double span) => Round(span / 4);

    // The greatest of 1, 2 or 5 times a power of ten that is no more.
    private static double Round(double most)
    {
        var power = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(most, 1e-9))));
        return Steps.Select(step => step * power).Last(step => step <= most * 1.0000001 || step == power);
    }

    private static string Say(double degrees, double span, string above, string below)
    {
        var step = StepOf(span);
        var decimals = Math.Clamp((int)Math.Ceiling(-Math.Log10(step)), 0, 6);
        var text = Math.Abs(degrees).ToString("F" + decimals, System.Globalization.CultureInfo.InvariantCulture);
        return $"{text}° {(degrees < 0 ? below : above)}";
    }
}
