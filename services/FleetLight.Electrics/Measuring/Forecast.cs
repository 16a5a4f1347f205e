namespace FleetLight.Electrics;

/// <summary>What one explanation foretells of one reading: a distribution on a straight scale.</summary>
/// <remarks>
/// A log-normal reading is a normal one on the scale of its logarithm; information does not change with the scale as
/// long as all explanations are put on the same one.
/// </remarks>
/// <param name="Kind">The shape.</param>
/// <param name="Centre">Its middle.</param>
/// <param name="Spread">Standard deviation of a normal one; half the width of an even one.</param>
internal readonly record struct Forecast(ForecastKind Kind, double Centre, double Spread)
{
    private const double RootTwoPi = 2.5066282746310002;

    /// <summary>How far a normal distribution is looked at, in standard deviations.</summary>
    private const double Reach = 6.5;

    /// <summary>A normal distribution; no narrower than rounding can bear.</summary>
    public static Forecast Normal(double mean, double standardDeviation) =>
        new(ForecastKind.Normal, mean, Math.Max(standardDeviation, 1e-9 * (1 + Math.Abs(mean))));

    /// <summary>Nothing is foretold but the span in which the reading lies.</summary>
    public static Forecast Even(double low, double high) =>
        new(ForecastKind.Even, (low + high) / 2, Math.Max((high - low) / 2, 1e-9 * (1 + Math.Abs(low))));

    /// <summary>Where it ends for all that matters.</summary>
    public double Low => Centre - HalfWidth;

    /// <summary>Where it ends for all that matters.</summary>
    public double High => Centre + HalfWidth;

    private double HalfWidth => Kind == ForecastKind.Normal ? Reach * Spread : Spread;

    /// <summary>Probability density.</summary>
    public double Density(double x)
    {
        var z = (x - Centre) / Spread;
        return Kind == ForecastKind.Even
            ? Math.Abs(z) <= 1 ? 0.5 / Spread : 0
            : Math.Exp(-0.5 * z * z) / (Spread * RootTwoPi);
    }

    /// <summary>Whether two of them are so alike that they can be looked at as one.</summary>
    public bool IsLike(Forecast other) =>
        Kind == other.Kind
        && Math.Abs(Centre - other.Centre) <= 0.05 * Math.Min(Spread, other.Spread)
        && Math.Abs(Spread - other.Spread) <= 0.05 * Math.Min(Spread, other.Spread);
}

/// <summary>The shape of a forecast.</summary>
internal enum ForecastKind
{
    /// <summary>Normal.</summary>
    Normal,

    /// <summary>The same density all over its span.</summary>
    Even,
}
