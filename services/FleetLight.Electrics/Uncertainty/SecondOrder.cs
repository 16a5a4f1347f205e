using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>What the curvature of a model adds to the first-order propagation of uncertainty.</summary>
/// <param name="Value">The output at the best estimates.</param>
/// <param name="FirstOrderUncertainty">Combined standard uncertainty in first order (GUM 5.1.2).</param>
/// <param name="Shift">How far the mean lies from the value at the best estimates.</param>
/// <param name="StandardUncertainty">
/// Combined standard uncertainty with the second-order terms (note to GUM 5.1.2; third derivatives are left out).
/// </param>
internal readonly record struct SecondOrder(
    double Value, double FirstOrderUncertainty, double Shift, double StandardUncertainty)
{
    /// <summary>
    /// The terms of a model of independent inputs, by differences one standard uncertainty to either side; empty where the
    /// model has no answer at one of these points. It takes 1 + n + n² evaluations for n inputs.
    /// </summary>
    public static ImmutableArray<SecondOrder> Of(TrialModel model, ImmutableArray<InputShape> inputs, int outputs)
    {
        var terms = new Terms(model, inputs.Length, outputs);
        return terms.Fill(inputs) ? terms.Close() : [];
    }

    private sealed class Terms(TrialModel model, int count, int outputs)
    {
        private readonly double[] at = new double[count];
        private readonly double[] best = new double[outputs];
        private readonly double[] first = new double[outputs];
        private readonly double[] second = new double[outputs];
        private readonly double[] shift = new double[outputs];
        private readonly double[] up = new double[outputs];
        private readonly double[] down = new double[outputs];

        // Sum of the outputs one step up and one step down each input.
        private readonly double[] sums = new double[count * outputs];

        public bool Fill(ImmutableArray<InputShape> inputs)
        {
            if (!model(at, best)) return false;
            for (var i = 0; i < count; i++)
            {
                if (!Both(i, -1)) return false;
                // Variance of the square of a quantity of unit variance: 0.8 rectangular, 2 normal.
                var ofSquare = inputs[i].IsRectangular ? 0.8 : 2;
                for (var o = 0; o < outputs; o++)
                {
                    sums[(i * outputs) + o] = up[o] + down[o];
                    var slope = (up[o] - down[o]) / 2;
                    var bend = up[o] + down[o] - (2 * best[o]);
                    first[o] += slope * slope;
                    shift[o] += bend / 2;
                    second[o] += bend * bend / 4 * ofSquare;
                }

                for (var j = 0; j < i; j++)
                    if (!Cross(i, j)) return false;
            }

            return true;
        }

        public ImmutableArray<SecondOrder> Close()
        {
            var closed = new SecondOrder[outputs];
            for (var o = 0; o < outputs; o++)
            {
                closed[o] = new SecondOrder(
                    best[o], Math.Sqrt(first[o]), shift[o], Math.Sqrt(first[o] + second[o]));
            }

            return [.. closed];
        }

        private bool Cross(int i, int j)
        {
            if (!Both(i, j)) return false;
            for (var o = 0; o < outputs; o++)
            {
                var mixed = (up[o] + down[o] - sums[(i * outputs) + o] - sums[(j * outputs) + o] + (2 * best[o])) / 2;
                second[o] += mixed * mixed;
            }

            return true;
        }

        // The outputs with one or two inputs a standard uncertainty up, and with the same down.
        private bool Both(int i, int j)
        {
            Set(i, j, 1);
            if (!model(at, up)) return false;
            Set(i, j, -1);
            if (!model(at, down)) return false;
            Set(i, j, 0);
            return true;
        }

        private void Set(int i, int j, double step)
        {
            at[i] = step;
            if (j >= 0) at[j] = step;
        }
    }
}
