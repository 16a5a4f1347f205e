using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>When a trend comes to its limits.</summary>
internal static class DriftCrossings
{
    // Nobody plans further, and dates must stay dates.
    private const double MostYears = 50;

    /// <summary>The crossings of the limits that there are.</summary>
    public static ImmutableArray<LimitCrossing> Of(
        DriftTrend trend, DriftModel model, DriftSeries series, DriftScale scale)
    {
        var newest = model.Points[^1];
        var expected = newest.Expected is { } value ? scale.Of(value) : 0;
        var crossings = ImmutableArray.CreateBuilder<LimitCrossing>(2);
        if (series.LowLimit is { } low && scale.IsUsable(low)) Add(low, isUpper: false);
        if (series.HighLimit is { } high && scale.IsUsable(high)) Add(high, isUpper: true);
        return crossings.ToImmutable();

        void Add(double limit, bool isUpper)
        {
            // Turned over where it is the lower one, so that every limit lies above.
            var sign = isUpper ? 1 : -1;
            var way = sign * (scale.Of(limit) - expected - trend.Level);
            var slope = sign * trend.Slope;
            var (faster, slower) = isUpper ? (trend.Above, trend.Below) : (trend.Below, trend.Above);
            crossings.Add(new LimitCrossing(
                limit, isUpper,
                Date(First(way, slope, faster, trend.LevelHalf, outer: 1)),
                Date(slope > 0 ? way / slope : way <= 0 ? 0 : null),
                Date(First(way, slope, slower, trend.LevelHalf, outer: -1))));
        }

        DateTimeOffset? Date(double? yearsAfterPivot)
        {
            if (yearsAfterPivot is not { } years) return null;
            var afterNewest = years + trend.PivotYears - newest.Years;
            // A date far in the past says no more than that it is past.
            if (!(afterNewest <= MostYears)) return null;
            afterNewest = Math.Max(afterNewest, trend.PivotYears - newest.Years);
            var ticks = newest.At.UtcTicks + (long)(afterNewest * DriftPoints.DaysAYear * TimeSpan.TicksPerDay);
            return ticks >= DateTime.MinValue.Ticks && ticks <= DateTime.MaxValue.Ticks
                ? new DateTimeOffset(ticks, TimeSpan.Zero)
                : null;
        }
    }

    // The first time at which the edge of the band about the line comes to the limit: level ± half and slope ± half are
    // independent, so the band is a hyperbola: way − slope·t = ±√(level² + (slopeHalf·t)²).
    private static double? First(double way, double slope, double slopeHalf, double levelHalf, int outer)
    {
        if (way <= outer * levelHalf) return 0;
        double low = 0, high = 1.0 / 64;
        while (!Crossed(high))
        {
            low = high;
            high *= 2;
            if (high > 4 * MostYears) return null;
        }

        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            if (Crossed(middle)) high = middle;
            else low = middle;
        }

        return high;

        bool Crossed(double t) =>
            (slope * t) + (outer * Math.Sqrt((levelHalf * levelHalf) + (slopeHalf * t * slopeHalf * t))) >= way;
    }
}
