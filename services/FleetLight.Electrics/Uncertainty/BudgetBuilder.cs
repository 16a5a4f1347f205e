using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Collects independent contributions to one quantity and closes them into an estimate.</summary>
internal ref struct BudgetBuilder
{
    private const int Sources = 7;
    private Variances variances;
    private RectangularSum rectangular;

    /// <summary>Adds a contribution whose limits are all that is known: rectangular.</summary>
    public void Rectangular(UncertaintySource source, double standardUncertainty)
    {
        variances[(int)source] += standardUncertainty * standardUncertainty;
        rectangular.Add(standardUncertainty);
    }

    /// <summary>Adds several contributions whose limits are all that is known.</summary>
    public void Rectangular(UncertaintySource source, in RectangularSum sum)
    {
        variances[(int)source] += sum.Variance;
        rectangular.Add(sum);
    }

    /// <summary>Adds what one standard uncertainty of each input of a circuit changes.</summary>
    public void Add(ReadOnlySpan<double> parts, ImmutableArray<InputShape> inputs)
    {
        for (var k = 0; k < parts.Length; k++)
        {
            if (inputs[k].IsRectangular) Rectangular(inputs[k].Source, parts[k]);
            else Normal(inputs[k].Source, parts[k]);
        }
    }

    /// <summary>Adds a contribution that is normal or itself the sum of many.</summary>
    public void Normal(UncertaintySource source, double standardUncertainty) =>
        variances[(int)source] += standardUncertainty * standardUncertainty;

    /// <summary>The estimate with all that was added.</summary>
    public readonly Estimate Close(double best)
    {
        double total = 0;
        var count = 0;
        for (var i = 0; i < Sources; i++)
        {
            total += variances[i];
            if (variances[i] > 0) count++;
        }

        if (count == 0) return Estimate.Of(best, default, []);
        var lines = new UncertaintyContribution[count];
        var next = 0;
        for (var i = 0; i < Sources; i++)
        {
            if (!(variances[i] > 0)) continue;
            var line = new UncertaintyContribution(
                (UncertaintySource)i, Math.Sqrt(variances[i]), 100 * variances[i] / total);
            var at = next++;
            for (; at > 0 && lines[at - 1].SharePercent < line.SharePercent; at--) lines[at] = lines[at - 1];
            lines[at] = line;
        }

        var spread = new Spread(
            Math.Sqrt(total), rectangular.Largest, rectangular.Second,
            Math.Sqrt(Math.Sqrt(rectangular.FourthPowers)));
        return Estimate.Of(best, spread,
            System.Runtime.InteropServices.ImmutableCollectionsMarshal.AsImmutableArray(lines));
    }

    [System.Runtime.CompilerServices.InlineArray(Sources)]
    private struct Variances
    {
        private double first;
    }
}
