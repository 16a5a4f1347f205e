namespace FleetLight.Electrics;

/// <summary>The chi-square distribution: the sum of squares of independent normal quantities.</summary>
public static class ChiSquare
{
    /// <summary>Probability of more than x for whole degrees of freedom (Abramowitz and Stegun 26.4.4, 26.4.5).</summary>
    public static double Beyond(double x, int degreesOfFreedom)
    {
        if (!(x > 0)) return 1;
        var odd = degreesOfFreedom % 2 == 1;
        var last = Math.Exp(-x / 2);
        var sum = odd ? 2 * StandardNormal.Cumulative(-Math.Sqrt(x)) : last;
        if (odd) last *= Math.Sqrt(2 / (Math.PI * x));
        for (var k = odd ? 1 : 2; k < degreesOfFreedom; k += 2)
        {
            last *= x / k;
            sum += last;
        }

        return Math.Min(1, sum);
    }
}
