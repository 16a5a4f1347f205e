namespace FleetLight.Electrics;

/// <summary>What a circuit's state makes of the evidence.</summary>
internal sealed class Observation
{
    private const double LogTwoPi = 1.8378770664093454;

    private Observation(double[] mean, double[] factor, double logLit)
    {
        Mean = mean;
        Factor = factor;
        LogLit = logLit;
    }

    /// <summary>Predicted value of each row.</summary>
    public double[] Mean { get; }

    /// <summary>Cholesky factor of the rows' covariance, the meter included.</summary>
    public double[] Factor { get; }

    /// <summary>Logarithm of the probability of what was seen of the fittings.</summary>
    public double LogLit { get; }

    /// <summary>Logarithm of the density of all the evidence.</summary>
    public double LogDensity { get; private init; }

    /// <summary>Logarithm of the height of the rows' density at its mean.</summary>
    public double LogPeak { get; private init; }

    /// <summary>Squared Mahalanobis distance of the rows from the prediction.</summary>
    public double SquaredDistance { get; private init; }

    /// <summary>Standard uncertainty of a row, with the meter's.</summary>
    public double StandardUncertainty(int row) => Math.Sqrt(Cholesky.Variance(Factor, row, Mean.Length));

    /// <summary>Closes an observation; null where the covariance is not a possible one.</summary>
    /// <param name="evidence">The evidence.</param>
    /// <param name="mean">Predicted values; taken over.</param>
    /// <param name="covariance">Their covariance with the meter's; taken over and factored.</param>
    /// <param name="logLit">Logarithm of the probability of what was seen of the fittings.</param>
    public static Observation? TryClose(Evidence evidence, double[] mean, double[] covariance, double logLit)
    {
        var count = mean.Length;
        if (!Cholesky.Factor(covariance, count, out var logDeterminant)) return null;
        Span<double> rest = stackalloc double[count];
        for (var i = 0; i < count; i++) rest[i] = evidence.Rows[i].Value - mean[i];
        var distance = Cholesky.Whiten(covariance, rest, count);
        if (!double.IsFinite(distance)) return null;
        var peak = -0.5 * (logDeterminant + (count * LogTwoPi));
        return new Observation(mean, covariance, logLit)
        {
            LogPeak = peak,
            SquaredDistance = distance,
            LogDensity = peak - (0.5 * distance) + logLit,
        };
    }
}
