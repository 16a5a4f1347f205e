namespace FleetLight.Electrics;

/// <summary>
/// Coverage factors for a quantity whose largest rectangular contribution may dominate the rest.
/// </summary>
/// <remarks>
/// The factor 1.96 belongs to a normal quantity. Tolerances are rectangular (GUM 4.3.7), and where one of them
/// dominates the factor falls to 0.95·√3 = 1.645. The largest rectangular contribution is therefore convolved
/// exactly with the rest, which is taken as normal; JCGM 101 clause 9.2 has published cases.
/// </remarks>
public static class Coverage
{
    /// <summary>The two-sided 95 % factor of a normal quantity.</summary>
    public const double Normal95 = 1.959963984540054;

    /// <summary>The two-sided 99.7 % factor of a normal quantity.</summary>
    public const double Normal997 = 2.967737925342168;

    private const int Steps = 128;

    private static readonly double[] Table95 = MakeTable();

    /// <summary>Half the 95 % coverage interval, in standard uncertainties; 1.645 to 1.96.</summary>
    /// <param name="largestRectangular">Standard uncertainty of the largest rectangular contribution.</param>
    /// <param name="combined">Combined standard uncertainty, including that contribution.</param>
    public static double Factor95(double largestRectangular, double combined)
    {
        if (!(combined > 0) || !(largestRectangular > 0)) return Normal95;
        var at = Math.Min(1, largestRectangular / combined) * Steps;
        if (!(at >= 0)) return Normal95;
        var low = Math.Min((int)at, Steps - 1);
        return Table95[low] + ((at - low) * (Table95[low + 1] - Table95[low]));
    }

    private static double[] MakeTable()
    {
        var table = new double[Steps + 1];
        for (var i = 0; i <= Steps; i++) table[i] = Solve(0.95, (double)i / Steps);
        return table;
    }

    /// <summary>The factor for one probability and one share, by bisection on the exact distribution.</summary>
    internal static double Solve(double probability, double share)
    {
        double low = 0, high = 6;
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            if (Inside(middle, share) < probability) low = middle;
            else high = middle;
        }

        return (low + high) / 2;
    }

    // Probability that a rectangular part with this share of the standard deviation, plus a normal rest, stays
    // within ±x.
    private static double Inside(double x, double share)
    {
        var half = share * Math.Sqrt(3);
        var rest = Math.Sqrt(Math.Max(0, 1 - (share * share)));
        if (rest < 1e-6) return Math.Min(1, x / half);
        if (half < 1e-6) return 1 - (2 * StandardNormal.Cumulative(-x));
        return (Integral((x + half) / rest) - Integral((x - half) / rest)) * rest / half - 1;
    }

    // Antiderivative of the cumulative normal.
    private static double Integral(double t) => (t * StandardNormal.Cumulative(t)) + StandardNormal.Density(t);
}
