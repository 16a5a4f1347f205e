namespace FleetLight.Electrics;

/// <summary>How well a prediction explains the readings.</summary>
/// <param name="LogDensity">Logarithm of the probability density of the readings.</param>
/// <param name="SquaredDistance">Squared Mahalanobis distance of the readings from the prediction.</param>
/// <param name="Used">How many readings the hypothesis predicts.</param>
internal readonly record struct Likelihood(double LogDensity, double SquaredDistance, int Used)
{
    private const double LogTwoPi = 1.8378770664093454;

    /// <summary>
    /// Density of the readings under a prediction, as a normal distribution with the meter's error added.
    /// </summary>
    /// <remarks>A reading that the hypothesis does not predict counts as spread evenly over its span.</remarks>
    public static Likelihood Of(Prediction prediction, ReadingSet readings)
    {
        Span<int> rows = stackalloc int[Diagnosis.MostReadings];
        double log = 0;
        var used = 0;
        for (var i = 0; i < readings.Count; i++)
        {
            if (double.IsNaN(prediction.Mean[i])) log -= Math.Log(readings.Span(i));
            else rows[used++] = i;
        }

        Span<double> factor = used * used <= 64 ? stackalloc double[64] : new double[used * used];
        Span<double> rest = used <= 64 ? stackalloc double[64] : new double[used];
        Fill(prediction, readings, rows[..used], factor);
        if (!Factorize(factor, used, out var logDeterminant))
            return new Likelihood(double.NegativeInfinity, double.PositiveInfinity, used);
        for (var i = 0; i < used; i++) rest[i] = readings[rows[i]].Value - prediction.Mean[rows[i]];
        var distance = Distance(factor, rest, used);
        return new Likelihood(log - (0.5 * (distance + logDeterminant + (used * LogTwoPi))), distance, used);
    }

    /// <summary>Slope of the readings' distance along a direction: gᵀC⁻¹r and gᵀC⁻¹g.</summary>
    public static (double Pull, double Curvature) Along(
        Prediction prediction, ReadingSet readings, ReadOnlySpan<double> direction)
    {
        var count = readings.Count;
        var factor = new double[count * count];
        Span<int> rows = stackalloc int[Diagnosis.MostReadings];
        for (var i = 0; i < count; i++) rows[i] = i;
        Fill(prediction, readings, rows[..count], factor);
        if (!Factorize(factor, count, out _)) return (0, 0);
        var rest = new double[count];
        var along = new double[count];
        for (var i = 0; i < count; i++)
        {
            rest[i] = readings[i].Value - prediction.Mean[i];
            along[i] = direction[i];
            if (!double.IsFinite(rest[i]) || !double.IsFinite(along[i])) rest[i] = along[i] = 0;
        }

        Distance(factor, rest, count);
        var curvature = Distance(factor, along, count);
        double pull = 0;
        for (var i = 0; i < count; i++) pull += rest[i] * along[i];
        return (pull, curvature);
    }

    private static void Fill(Prediction prediction, ReadingSet readings, ReadOnlySpan<int> rows, Span<double> matrix)
    {
        for (var i = 0; i < rows.Length; i++)
        {
            for (var j = 0; j < rows.Length; j++)
                matrix[(i * rows.Length) + j] = prediction.Covariance[(rows[i] * readings.Count) + rows[j]];
            matrix[(i * rows.Length) + i] += readings.MeterVariance(rows[i]);
        }
    }

    // Cholesky factor in place, lower triangle.
    private static bool Factorize(Span<double> matrix, int count, out double logDeterminant)
    {
        logDeterminant = 0;
        for (var i = 0; i < count; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var sum = matrix[(i * count) + j];
                for (var k = 0; k < j; k++) sum -= matrix[(i * count) + k] * matrix[(j * count) + k];
                if (i != j)
                {
                    matrix[(i * count) + j] = sum / matrix[(j * count) + j];
                    continue;
                }

                if (!(sum > 0)) return false;
                matrix[(i * count) + i] = Math.Sqrt(sum);
                logDeterminant += Math.Log(sum);
            }
        }

        return true;
    }

    // Solves L·y = r in place and returns yᵀy.
    private static double Distance(ReadOnlySpan<double> factor, Span<double> rest, int count)
    {
        double distance = 0;
        for (var i = 0; i < count; i++)
        {
            for (var k = 0; k < i; k++) rest[i] -= factor[(i * count) + k] * rest[k];
            rest[i] /= factor[(i * count) + i];
            distance += rest[i] * rest[i];
        }

        return distance;
    }
}
