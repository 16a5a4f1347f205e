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
    public static double Cumulative(double x)
    {
        var a = Math.Abs(x);
        if (a > 37) return x > 0 ? 1 : 0;
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

        return x > 0 ? 1 - tail : tail;
    }
}
