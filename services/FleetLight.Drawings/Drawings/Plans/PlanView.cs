namespace FleetLight.PageParts.Drawings.Plans;

/// <summary>What of a plan is on the screen.</summary>
/// <param name="Centre">The middle of the screen, metres from the site's centre.</param>
/// <param name="PixelsPerMetre">CSS pixels for one metre.</param>
/// <param name="WidthPixels">Width, CSS pixels.</param>
/// <param name="HeightPixels">Height, CSS pixels.</param>
public sealed record PlanView(PlanMetres Centre, double PixelsPerMetre, double WidthPixels, double HeightPixels)
{
    // From a whole estate of 20 km to a hand's breadth.
    private const double Least = 0.02;
    private const double Most = 400;

    private const double EdgePixels = 36;

    /// <summary>All of the points on the screen.</summary>
    public static PlanView Fitting(IReadOnlyCollection<PlanMetres> points, double widthPixels, double heightPixels)
    {
        ArgumentNullException.ThrowIfNull(points);
        if (points.Count == 0) return new PlanView(default, 4, widthPixels, heightPixels);
        var (west, east) = (points.Min(at => at.East), points.Max(at => at.East));
        var (south, north) = (points.Min(at => at.North), points.Max(at => at.North));
        // A single thing is shown with some metres around it.
        var across = Math.Max(10, east - west);
        var up = Math.Max(10, north - south);
        var scale = Math.Min((widthPixels - (2 * EdgePixels)) / across, (heightPixels - (2 * EdgePixels)) / up);
        return new PlanView(new PlanMetres((west + east) / 2, (south + north) / 2), Math.Clamp(scale, Least, Most), widthPixels, heightPixels);
    }

    /// <summary>Where a point is on the screen; north is up.</summary>
    public Point Of(PlanMetres at) =>
        new((WidthPixels / 2) + ((at.East - Centre.East) * PixelsPerMetre), (HeightPixels / 2) - ((at.North - Centre.North) * PixelsPerMetre));

    /// <summary>What is at a point of the screen.</summary>
    public PlanMetres At(Point at) =>
        new(Centre.East + ((at.X - (WidthPixels / 2)) / PixelsPerMetre), Centre.North - ((at.Y - (HeightPixels / 2)) / PixelsPerMetre));

    /// <summary>Larger or smaller, with what is at a point of the screen staying there.</summary>
    public PlanView Zoomed(double factor, Point about)
    {
        var scale = Math.Clamp(PixelsPerMetre * factor, Least, Most);
        var stays = At(about);
        var centre = new PlanMetres(stays.East - ((about.X - (WidthPixels / 2)) / scale), stays.North + ((about.Y - (HeightPixels / 2)) / scale));
        return this with { Centre = centre, PixelsPerMetre = scale };
    }

    /// <summary>Larger or smaller about the middle.</summary>
    public PlanView Zoomed(double factor) => Zoomed(factor, new Point(WidthPixels / 2, HeightPixels / 2));

    /// <summary>Moved as if the paper were drawn by so many CSS pixels.</summary>
    public PlanView Moved(double right, double down) =>
        this with { Centre = new PlanMetres(Centre.East - (right / PixelsPerMetre), Centre.North + (down / PixelsPerMetre)) };

    /// <summary>A round length for the scale bar, m, at most so many CSS pixels long.</summary>
    public double ScaleMetres(double mostPixels)
    {
        var most = mostPixels / PixelsPerMetre;
        var power = Math.Pow(10, Math.Floor(Math.Log10(most)));
        return ((double[])[5, 2, 1]).Select(factor => factor * power).First(length => length <= most * 1.0001);
    }
}
