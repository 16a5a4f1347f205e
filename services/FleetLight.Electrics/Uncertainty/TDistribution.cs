namespace FleetLight.Electrics;

/// <summary>Student's t distribution, with any number of degrees of freedom above 0.</summary>
internal static class TDistribution
{
    // Beyond this the normal distribution differs by less than 1e-7.
    private const double AsGoodAsNormal = 1e7;

    // Lanczos approximation of the gamma function, g = 7, nine terms: good to about 1e-15. Coefficients from memory,
    // checked in the tests against an independent library.
    private static readonly double[] Lanczos =
    [
        0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
        12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
    ];

    /// <summary>Probability of a value further from 0 than this, on either side.</summary>
    public static double TwoSided(double t, double freedom)
    {
        if (!double.IsFinite(t)) return double.IsNaN(t) ? 1 : 0;
        if (freedom > AsGoodAsNormal) return 2 * StandardNormal.Cumulative(-Math.Abs(t));
        return IncompleteBeta(freedom / 2, 0.5, freedom / (freedom + (t * t)));
    }

    /// <summary>The value that is exceeded, on either side, with this probability, above 0 and below 1.</summary>
    public static double QuantileTwoSided(double probability, double freedom)
    {
        // Newton's steps from the normal value, which lies below: the tail is convex there, so no step goes too far.
        var x = -StandardNormal.Quantile(probability / 2);
        if (freedom > AsGoodAsNormal) return x;
        var front = Math.Exp(LogGamma((freedom + 1) / 2) - LogGamma(freedom / 2)) / Math.Sqrt(freedom * Math.PI);
        for (var i = 0; i < 60; i++)
        {
            var density = front * Math.Pow(1 + (x * x / freedom), -(freedom + 1) / 2);
            var step = (TwoSided(x, freedom) - probability) / (2 * density);
            x += step;
            if (Math.Abs(step) <= 1e-10 * x) break;
        }

        return x;
    }

    /// <summary>The standard normal value that has as much probability below it.</summary>
    public static double ToNormal(double t, double freedom)
    {
        // Beyond 37 standard deviations there is nothing left to count.
        var tail = Math.Max(TwoSided(t, freedom) / 2, 1e-300);
        return Math.Sign(t) * -StandardNormal.Quantile(tail);
    }

    // The continued fraction of Abramowitz and Stegun 26.5.8, evaluated by Lentz's method.
    private static double IncompleteBeta(double a, double b, double x)
    {
        if (x <= 0) return 0;
        if (x >= 1) return 1;
        if (x > (a + 1) / (a + b + 2)) return 1 - IncompleteBeta(b, a, 1 - x);
        const double tiny = 1e-300;
        var c = 1.0;
        var d = 1 / NotZero(1 - ((a + b) * x / (a + 1)));
        var h = d;
        for (var m = 1; m <= 300; m++)
        {
            var even = m * (b - m) * x / ((a + (2 * m) - 1) * (a + (2 * m)));
            Step(even);
            var before = h;
            Step(-(a + m) * (a + b + m) * x / ((a + (2 * m)) * (a + (2 * m) + 1)));
            if (Math.Abs(h - before) <= 1e-15 * Math.Abs(h)) break;
        }

        var front = LogGamma(a + b) - LogGamma(a) - LogGamma(b) + (a * Math.Log(x)) + (b * Math.Log(1 - x));
        return Math.Clamp(Math.Exp(front) * h / a, 0, 1);

        void Step(double term)
        {
            d = 1 / NotZero(1 + (term * d));
            c = NotZero(1 + (term / c));
            h *= d * c;
        }

        static double NotZero(double value) => Math.Abs(value) < tiny ? tiny : value;
    }

    private static double LogGamma(double x)
    {
        var shifted = x - 1;
        var sum = Lanczos[0];
        for (var i = 1; i < Lanczos.Length; i++) sum += Lanczos[i] / (shifted + i);
        var t = shifted + 7.5;
        return (0.5 * Math.Log(2 * Math.PI)) + ((shifted + 0.5) * Math.Log(t)) - t + Math.Log(sum);
    }
}
