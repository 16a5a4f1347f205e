namespace FleetLight.Electrics;

/// <summary>Student's t, for uncertainties that rest on few observations (GUM, annex G).</summary>
internal static class Student
{
    // Beyond that the factor differs from the normal one by less than 0.1 % at 99.7 %.
    private const int AsGoodAsNormal = 2000;

    /// <summary>
    /// Effective degrees of freedom of a sum of which one part rests on few observations and the rest is known well
    /// (Welch and Satterthwaite, GUM G.4.1).
    /// </summary>
    /// <param name="combined">Combined standard uncertainty of the sum.</param>
    /// <param name="part">Standard uncertainty of the part.</param>
    /// <param name="degreesOfFreedom">Its degrees of freedom.</param>
    public static double EffectiveDegreesOfFreedom(double combined, double part, double degreesOfFreedom) =>
        part > 0 ? degreesOfFreedom * Math.Pow(combined / part, 4) : double.PositiveInfinity;

    /// <summary>
    /// How much wider an interval of a probability is than that of a normal quantity. Degrees of freedom are rounded down
    /// (GUM G.4.1), to no less than 1.
    /// </summary>
    public static double Widening(double probability, double degreesOfFreedom)
    {
        if (!(degreesOfFreedom < AsGoodAsNormal) || !(probability is > 0 and < 1)) return 1;
        var whole = Math.Max(1, (int)degreesOfFreedom);
        var normal = StandardNormal.Quantile((1 + probability) / 2);
        double low = normal, high = 2 * normal;
        while (Inside(high, whole) < probability) high *= 2;
        while (high - low > 1e-12 * high)
        {
            var middle = (low + high) / 2;
            if (middle <= low || middle >= high) break;
            if (Inside(middle, whole) < probability) low = middle;
            else high = middle;
        }

        return low / normal;
    }

    // Probability of a value within ±t; Abramowitz and Stegun 26.7.3 and 26.7.4.
    private static double Inside(double t, int degreesOfFreedom)
    {
        var angle = Math.Atan(t / Math.Sqrt(degreesOfFreedom));
        var (sine, cosine) = Math.SinCos(angle);
        var odd = degreesOfFreedom % 2 == 1;
        double sum = 0, term = odd ? cosine : 1;
        for (var k = odd ? 3 : 2; k <= degreesOfFreedom; k += 2)
        {
            sum += term;
            term *= cosine * cosine * (k - 1) / k;
        }

        return odd ? 2 / Math.PI * (angle + (sine * sum)) : sine * sum;
    }
}
