using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>What one meter showed on one visit, on the scale that drift is looked for on.</summary>
/// <param name="At">When.</param>
/// <param name="Years">The same, years after the first point.</param>
/// <param name="Shown">The reading itself, in its unit.</param>
/// <param name="Expected">What was expected, in the same unit; null where not known.</param>
/// <param name="Deviation">Deviation from it on the scale, brought to the reference temperature where that is known.</param>
/// <param name="Noise">Standard deviation of what the meter's digits add to each reading anew.</param>
/// <param name="Gain">Standard deviation of what the meter is off by, the same at all its readings of that size.</param>
/// <param name="GainShare">The same as a share of the reading.</param>
/// <param name="PerKelvin">How the reading changes per kelvin.</param>
/// <param name="Daily">Standard deviation of what weather and all else are taken to add from day to day.</param>
/// <param name="Celsius">Recorded temperature less the reference; null where none is recorded.</param>
/// <param name="MeterId">The meter.</param>
/// <param name="DesignId">The design.</param>
/// <param name="DesignUncertainty">Standard uncertainty of what was expected; 0 where not known.</param>
internal sealed record DriftPoint(
    DateTimeOffset At, double Years, double Shown, double? Expected, double Deviation, double Noise, double Gain,
    double GainShare, double PerKelvin, double Daily,
    double? Celsius, string MeterId, string DesignId, double DesignUncertainty);

/// <summary>The points of a series, and what was left out of it.</summary>
internal sealed record DriftPoints(ImmutableArray<DriftPoint> Points, int Visits, int Repeated, int Unusable)
{
    /// <summary>Most points that are looked at: the newest.</summary>
    public const int Most = 400;

    public const double DaysAYear = 365.25;

    // A thermometer does not stand where the fittings and conductors are: so much of the weather is left to chance where
    // a temperature is recorded (common practice, no source).
    private const double LeftOfWeather = 0.4;

    // What drivers and contacts vary by from day to day, as a share of the reading (common practice, no source).
    private const double RestShare = 0.001;

    private const double Root3 = 1.7320508075688772;

    public static DriftPoints Of(DriftSeries series, DriftScale scale, DriftOptions options)
    {
        var readings = series.Readings.OrEmpty();
        var usable = readings.Where(reading => IsUsable(reading, scale)).ToList();
        if (usable.Exists(reading => reading.Expected is not null))
            usable.RemoveAll(reading => reading.Expected is null);
        // Any order of the same readings is the same series.
        usable.Sort(Compare);
        var once = usable.DistinctBy(reading => (reading.At.UtcTicks, reading.Value, Meter(reading))).ToList();
        List<DriftPoint> points = [];
        var visits = 0;
        for (var from = 0; from < once.Count;)
        {
            var until = from;
            while (until < once.Count && (once[until].At - once[from].At).TotalDays <= options.VisitDays) until++;
            foreach (var one in once[from..until].GroupBy(reading => (Meter(reading), reading.DesignId ?? "")))
                points.Add(PointOf([.. one.OrderBy(reading => reading.Value)], once[0].At, series, scale, options));
            visits++;
            from = until;
        }

        return new([.. points.TakeLast(Most)], visits, usable.Count - once.Count, readings.Length - usable.Count);
    }

    // The median of what one meter showed; of an even number the lower of the two in the middle.
    private static DriftPoint PointOf(
        DriftReading[] ordered, DateTimeOffset start, DriftSeries series, DriftScale scale, DriftOptions options)
    {
        var reading = ordered[(ordered.Length - 1) / 2];
        var accuracy = reading.Meter ?? MeterAccuracy.DefaultFor(series.Quantity);
        var share = series.SharePerKelvin is { } given && Math.Abs(given) <= 0.1
            ? given
            : DriftOptions.SharePerKelvin(series.Quantity);
        var off = reading.Celsius - Reference(series.Quantity, options);
        var shown = scale.Of(reading.Value);
        var perKelvin = scale.ShareToScale(share, reading.Expected ?? reading.Value);
        shown -= off is not { } kelvin ? perKelvin * DriftSeason.Kelvin(series, reading.At, options)
            : scale.IsRatio ? perKelvin * kelvin
            : reading.Value * share * kelvin / (1 + (share * kelvin));
        return new DriftPoint(
            reading.At,
            (reading.At - start).TotalDays / DaysAYear,
            reading.Value,
            reading.Expected,
            shown - (reading.Expected is { } expected ? scale.Of(expected) : 0),
            scale.ToScale(NoiseOf(accuracy, reading.Value), reading.Value),
            scale.ToScale(Math.Abs(reading.Value) * accuracy.PercentOfReading / 100 / Root3, reading.Value),
            accuracy.PercentOfReading / 100 / Root3,
            perKelvin,
            double.Hypot(
                perKelvin * options.WeatherKelvin * (off is null ? 1 : LeftOfWeather),
                scale.ShareToScale(RestShare, reading.Expected ?? reading.Value)),
            off,
            Meter(reading),
            reading.DesignId ?? "",
            reading.Expected is { } about && reading.ExpectedStandardUncertainty is > 0 and < 1e9
                ? scale.ToScale(reading.ExpectedStandardUncertainty.Value, about)
                : 0);
    }

    // A meter of which no digits are stated still shows no more than it can; nothing is exact to nine figures.
    private static double NoiseOf(MeterAccuracy accuracy, double value) =>
        Math.Max(Math.Max(accuracy.Digits, 0.5) * accuracy.Resolution / Root3, 1e-9 * Math.Max(1, Math.Abs(value)));

    private static double Reference(MeasuredQuantity quantity, DriftOptions options) =>
        options.ReferenceCelsius
        ?? (quantity == MeasuredQuantity.LoopOhms ? Assumptions.Default.Buried.Celsius : ConductorResistance.ReferenceCelsius);

    // A meter without a name is told from others by its accuracy only.
    private static string Meter(DriftReading reading) =>
        reading.MeterId is { } id ? $"id {id}" : reading.Meter is { } meter ? $"accuracy {meter}" : "";

    private static bool IsUsable(DriftReading? reading, DriftScale scale) =>
        reading is not null
        && scale.IsUsable(reading.Value)
        && (reading.Expected is not { } expected || scale.IsUsable(expected))
        && reading.Meter?.IsValid != false
        && reading.Celsius is null or (>= -60 and <= 150);

    private static int Compare(DriftReading one, DriftReading other)
    {
        var byTime = one.At.UtcTicks.CompareTo(other.At.UtcTicks);
        if (byTime != 0) return byTime;
        var byMeter = string.CompareOrdinal(Meter(one), Meter(other));
        if (byMeter != 0) return byMeter;
        var byDesign = string.CompareOrdinal(one.DesignId ?? "", other.DesignId ?? "");
        if (byDesign != 0) return byDesign;
        var byValue = one.Value.CompareTo(other.Value);
        if (byValue != 0) return byValue;
        var byExpected = Nullable.Compare(one.Expected, other.Expected);
        return byExpected != 0 ? byExpected : Nullable.Compare(one.Celsius, other.Celsius);
    }
}

/// <summary>
/// The scale that drift is looked for on: the quantity itself, or its logarithm where values range over decades.
/// </summary>
internal readonly record struct DriftScale(bool IsRatio)
{
    // A meter cannot show less than its last digit; a dead short must not become minus infinity.
    private const double LeastMegohms = 0.001;
    private const double MostDecades = 300;

    public static DriftScale For(MeasuredQuantity quantity) => new(quantity == MeasuredQuantity.MegohmsInsulation);

    public bool IsUsable(double value) => Math.Abs(value) <= MeasuredReading.MostValue && (!IsRatio || value >= 0);

    public double Of(double value) => IsRatio ? Math.Log10(Math.Max(value, LeastMegohms)) : value;

    public double Back(double scaled) => IsRatio ? Math.Pow(10, Math.Clamp(scaled, -MostDecades, MostDecades)) : scaled;

    public double ToScale(double off, double at) =>
        IsRatio ? off / Math.Max(at, LeastMegohms) / Math.Log(10) : off;

    public double ShareToScale(double share, double at) => IsRatio ? share / Math.Log(10) : share * at;
}
