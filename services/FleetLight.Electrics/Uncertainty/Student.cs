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
        return TDistribution.QuantileTwoSided(1 - probability, whole) / StandardNormal.Quantile((1 + probability) / 2);
    }
}
