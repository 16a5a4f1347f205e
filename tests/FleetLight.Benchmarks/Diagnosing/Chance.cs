namespace FleetLight.Benchmarks.Diagnosing;

/// <summary>Chance from a seed that replays the run.</summary>
internal sealed class Chance(int seed)
{
    private const double Root3 = 1.7320508075688772;
    private readonly Random random = new(seed);

    /// <summary>A whole number, 0 to below the bound.</summary>
    public int Next(int below) => random.Next(below);

    /// <summary>0 to below 1.</summary>
    public double Share() => random.NextDouble();

    /// <summary>Evenly between two figures.</summary>
    public double Between(double low, double high) => low + ((high - low) * random.NextDouble());

    /// <summary>One of several.</summary>
    public T Pick<T>(ReadOnlySpan<T> from) => from[random.Next(from.Length)];

    /// <summary>A deviation with standard uncertainty 1, rectangular or normal.</summary>
    public double Deviation(bool rectangular) => rectangular ? Between(-Root3, Root3) : Gaussian();

    /// <summary>One of several by weight.</summary>
    public int Weighted(IReadOnlyList<double> weights)
    {
        var left = random.NextDouble() * weights.Sum();
        for (var i = 0; i < weights.Count - 1; i++)
        {
            left -= weights[i];
            if (left < 0) return i;
        }

        return weights.Count - 1;
    }

    private double Gaussian() =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
