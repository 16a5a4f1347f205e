namespace FleetLight.Electrics;

/// <summary>What a column of the fit stands for.</summary>
internal enum DriftEffect
{
    /// <summary>Sine or cosine of the year.</summary>
    Season,

    /// <summary>How far the coefficient of temperature is off.</summary>
    Temperature,

    /// <summary>How far one meter is off.</summary>
    Meter,

    /// <summary>How far what was expected by one design is off.</summary>
    Design,

    /// <summary>The level of a stretch between two works that changed it.</summary>
    Level,

    /// <summary>What work changed within a stretch.</summary>
    WorkStep,

    /// <summary>A sudden change without work.</summary>
    Step,

    /// <summary>A change at one rate over a whole stretch.</summary>
    Slope,

    /// <summary>A change of the rate, from one point of a stretch on.</summary>
    Bend,
}

/// <summary>A column of the fit.</summary>
/// <param name="Effect">What it stands for.</param>
/// <param name="Values">Its value at each point.</param>
/// <param name="From">First point of its stretch; for a step or bend, the first point that it moves.</param>
/// <param name="Until">End of its stretch, exclusive.</param>
internal sealed record DriftColumn(DriftEffect Effect, double[] Values, int From = 0, int Until = 0)
{
    /// <summary>Meter or design that it is of.</summary>
    public string Of { get; init; } = "";

    /// <summary>Whether its unknown is about 0 with standard deviation 1 beforehand.</summary>
    public bool IsKnown => Effect <= DriftEffect.Design;

    /// <summary>Whether points are brought to what the newest shows, rather than to nothing of it.</summary>
    public bool IsOfNewest => Effect is DriftEffect.Design or DriftEffect.WorkStep or DriftEffect.Step;

    /// <summary>Points of a stretch.</summary>
    public static DriftColumn LevelOf(int points, int from, int until)
    {
        var values = new double[points];
        Array.Fill(values, 1, from, until - from);
        return new(DriftEffect.Level, values, from, until);
    }

    /// <summary>A step at a point of a stretch.</summary>
    public static DriftColumn StepOf(DriftEffect effect, int points, int at, int until) =>
        LevelOf(points, at, until) with { Effect = effect };

    /// <summary>Years after the first point of a stretch, or after the one before a bend.</summary>
    public static DriftColumn SlopeOf(DriftEffect effect, IReadOnlyList<DriftPoint> points, int from, int until)
    {
        var values = new double[points.Count];
        var zero = points[effect == DriftEffect.Bend ? from - 1 : from].Years;
        for (var i = from; i < until; i++) values[i] = points[i].Years - zero;
        return new(effect, values, from, until);
    }
}

/// <summary>The columns of what must not be taken for drift and of which something is known beforehand.</summary>
internal static class DriftNuisances
{
    // More than these and the rest count as noise.
    private const int MostMeters = 12;
    private const int MostDesigns = 8;

    /// <summary>The columns.</summary>
    public static List<DriftColumn> Of(DriftPoint[] points, DriftSeries series, DriftOptions options)
    {
        List<DriftColumn> columns = [];
        var swing = DriftSeason.Deviation(series, options);
        if (swing > 0 && points.Any(point => point.Celsius is null && point.PerKelvin != 0))
        {
            columns.Add(Season(Math.Sin));
            columns.Add(Season(Math.Cos));
        }

        var mean = points.Average(point => point.Celsius ?? 0);
        var unsure = DriftOptions.SharePerKelvinUncertainty(series.Quantity);
        if (points.Any(point => point.Celsius is not null))
        {
            columns.Add(Column(
                DriftEffect.Temperature,
                point => point.Celsius is { } celsius ? unsure * point.PerKelvin * (celsius - mean) : 0));
        }

        foreach (var meter in MetersOf(points))
            columns.Add(Column(DriftEffect.Meter, point => point.MeterId == meter ? point.Gain : 0) with { Of = meter });
        var designs = points.Where(point => point.DesignUncertainty > 0).Select(point => point.DesignId);
        foreach (var design in Several(points.Select(point => point.DesignId)).Intersect(designs).TakeLast(MostDesigns))
        {
            columns.Add(Column(DriftEffect.Design, point => point.DesignId == design ? point.DesignUncertainty : 0) with
            {
                Of = design,
            });
        }

        return columns;

        DriftColumn Season(Func<double, double> wave) => Column(
            DriftEffect.Season,
            point => point.Celsius is null
                ? swing * point.PerKelvin * wave(2 * Math.PI * point.Years)
                : 0);

        DriftColumn Column(DriftEffect effect, Func<DriftPoint, double> value) =>
            new(effect, Array.ConvertAll(points, point => value(point)), 0, points.Length);
    }

    /// <summary>
    /// The meters that are estimated, each by its points; of one meter alone nothing can be told and nothing need be,
    /// and what a meter that was used once is off by is noise.
    /// </summary>
    public static IReadOnlyList<string> MetersOf(DriftPoint[] points) =>
        Several(points.Select(point => point.MeterId)) is { Count: > 1 } meters
            ? [.. meters.Where(meter => points.Count(point => point.MeterId == meter) > 1).TakeLast(MostMeters)]
            : [];

    private static List<string> Several(IEnumerable<string> names) =>
        names.Distinct(StringComparer.Ordinal).ToList() is { Count: > 1 } all ? all : [];
}
