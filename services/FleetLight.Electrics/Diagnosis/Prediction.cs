namespace FleetLight.Electrics;

/// <summary>
/// What one hypothesis predicts for all readings together: means and covariance, the meter not included.
/// </summary>
internal sealed class Prediction
{
    private Prediction(int count)
    {
        Mean = new double[count];
        Covariance = new double[count * count];
    }

    /// <summary>Predicted values; NaN where nothing is predicted.</summary>
    public double[] Mean { get; }

    /// <summary>Covariance, row by row.</summary>
    public double[] Covariance { get; }

    /// <summary>From a circuit's state, with inputs that are common to several readings correlating them.</summary>
    public static Prediction From(ICircuitState state, ReadingSet readings)
    {
        var count = readings.Count;
        var prediction = new Prediction(count);
        var parts = new double[count * state.Inputs];
        for (var i = 0; i < count; i++)
        {
            var own = parts.AsSpan(i * state.Inputs, state.Inputs);
            prediction.Mean[i] = state.Predict(readings[i].Place, readings[i].Quantity, own);
            for (var j = 0; j <= i; j++)
            {
                var other = parts.AsSpan(j * state.Inputs, state.Inputs);
                double sum = 0;
                for (var k = 0; k < own.Length; k++) sum += own[k] * other[k];
                prediction.Covariance[(i * count) + j] = prediction.Covariance[(j * count) + i] = sum;
            }
        }

        return prediction;
    }

    /// <summary>From a rule that gives a value and its standard uncertainty, each reading on its own.</summary>
    public static Prediction From(ReadingSet readings, Func<MeasuredReading, (double Mean, double Uncertainty)> rule)
    {
        var prediction = new Prediction(readings.Count);
        for (var i = 0; i < readings.Count; i++)
        {
            var (mean, uncertainty) = rule(readings[i]);
            prediction.Mean[i] = mean;
            prediction.Covariance[(i * readings.Count) + i] = uncertainty * uncertainty;
        }

        return prediction;
    }
}
