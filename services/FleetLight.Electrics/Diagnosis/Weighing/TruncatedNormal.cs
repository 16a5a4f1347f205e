namespace FleetLight.Electrics;

/// <summary>
/// The function exp(−½·k·(t − c)²) for t from 0 to 1: its integral, and the mean and variance of t under it.
/// </summary>
internal readonly record struct TruncatedNormal(double LogIntegral, double Mean, double Variance)
{
    private const double LogRootTwoPi = 0.9189385332046727;

    // Beyond so many standard deviations only the edge counts, and the differences below would lose all figures.
    private const double FarOut = 25;

    /// <summary>Of its curvature k and its centre c.</summary>
    public static TruncatedNormal Of(double curvature, double centre)
    {
        // So flat that it is a straight line over the range; its slope is what is left.
        if (!(curvature > 1e-4)) return Flat(curvature, centre);
        var s = 1 / Math.Sqrt(curvature);
        var (low, high) = (-centre / s, (1 - centre) / s);
        // Mirrored so that the nearer tail is on the left, where the distribution function is exact.
        var mirrored = low > 0;
        if (mirrored) (low, high) = (-high, -low);
        if (high < -FarOut) return AtEdge(s, high, mirrored);
        var inside = StandardNormal.Cumulative(high) - StandardNormal.Cumulative(low);
        var (atLow, atHigh) = (StandardNormal.Density(low), StandardNormal.Density(high));
        var shift = (atLow - atHigh) / inside;
        var variance = 1 + (((low * atLow) - (high * atHigh)) / inside) - (shift * shift);
        var mean = mirrored ? centre - (s * shift) : centre + (s * shift);
        return new(
            Math.Log(s) + LogRootTwoPi + Math.Log(inside),
            Math.Clamp(mean, 0, 1),
            Math.Clamp(s * s * variance, 0, 1.0 / 12));
    }

    private static TruncatedNormal Flat(double curvature, double centre)
    {
        double at(double t) => double.IsFinite(centre) ? -0.5 * curvature * (t - centre) * (t - centre) : 0;
        return new(at(0.5), 0.5, 1.0 / 12);
    }

    // An exponential that falls from the edge.
    private static TruncatedNormal AtEdge(double s, double high, bool mirrored)
    {
        var width = s / -high;
        return new((-0.5 * high * high) + Math.Log(width), mirrored ? width : 1 - width, width * width);
    }
}
