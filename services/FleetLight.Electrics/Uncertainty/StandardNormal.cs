namespace FleetLight.Electrics;

/// <summary>The standard normal distribution.</summary>
internal static class StandardNormal
{
    private const double SqrtTwoPi = 2.5066282746310002;

    /// <summary>Density at x.</summary>
    public static double Density(double x) => Math.Exp(-0.5 * x * x) / SqrtTwoPi;

    /// <summary>
    /// Probability of a value at or below x. Hart, Computer Approximations (1968), algorithm 5666, good to about
    /// 1e-15; coefficients from memory, checked in the tests against an independent library.
    /// </summary>
    public static double Cumulative(double x) => Both(x).Below;

    /// <summary>Probability of a value at or below x, and density there.</summary>
    public static (double Below, double Density) Both(double x)
    {
        var a = Math.Abs(x);
        if (a > 37) return (x > 0 ? 1 : 0, 0);
        var e = Math.Exp(-0.5 * a * a);
        double tail;
        if (a < 7.07106781186547)
        {
            var up = (((((((((((0.0352624965998911 * a) + 0.700383064443688) * a) + 6.37396220353165) * a)
                + 33.912866078383) * a) + 112.079291497871) * a) + 221.213596169931) * a) + 220.206867912376;
            var down = (((((((((((((0.0883883476483184 * a) + 1.75566716318264) * a) + 16.064177579207) * a)
                + 86.7807322029461) * a) + 296.564248779674) * a) + 637.333633378831) * a)
                + 793.826512519948) * a) + 440.413735824752;
            tail = e * up / down;
        }
        else
        {
            tail = e / SqrtTwoPi / (a + (1 / (a + (2 / (a + (3 / (a + (4 / (a + 0.65)))))))));
        }

        return (x > 0 ? 1 - tail : tail, e / SqrtTwoPi);
    }

    /// <summary>
    /// The value that a normal quantity stays below with a probability above 0 and below 1. Acklam's rational
    /// approximation (2003; coefficients from memory, checked in the tests against an independent library), bettered by
    /// one step of Halley's method to about 1e-14.
    /// </summary>
    public static double Quantile(double probability)
    {
        if (probability > 0.5) return -Quantile(1 - probability);
        double x;
        if (probability < 0.02425)
        {
            var t = Math.Sqrt(-2 * Math.Log(probability));
            x = ((((((((((-7.784894002430293e-03 * t) - 3.223964580411365e-01) * t) - 2.400758277161838) * t)
                - 2.549732539343734) * t) + 4.374664141464968) * t) + 2.938163982698783)
                / ((((((((7.784695709041462e-03 * t) + 3.224671290700398e-01) * t) + 2.445134137142996) * t)
                + 3.754408661907416) * t) + 1);
        }
        else
        {
            var d = probability - 0.5;
            var r = d * d;
            x = ((((((((((-3.969683028665376e+01 * r) + 2.209460984245205e+02) * r) - 2.759285104469687e+02) * r)
                + 1.383577518672690e+02) * r) - 3.066479806614716e+01) * r) + 2.506628277459239) * d
                / ((((((((((-5.447609879822406e+01 * r) + 1.615858368580409e+02) * r) - 1.556989798598866e+02) * r)
                + 6.680131188771972e+01) * r) - 1.328068155288572e+01) * r) + 1);
        }

        var off = (Cumulative(x) - probability) / Density(x);
        return x - (off / (1 + (0.5 * x * off)));
    }
}
