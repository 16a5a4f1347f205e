using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// Numbers that look like chance and are not: each is a function of seed, trial and position alone, so that a simulation
/// gives the same answer on any machine, in any order.
/// </summary>
/// <remarks>
/// Counter-based: the finaliser of SplitMix64 (Steele, Lea and Flood, 2014; constants from memory) over counters that
/// step by the golden ratio. Good for simulation, of no use for secrets.
/// </remarks>
internal static class Draws
{
    private const ulong Golden = 0x9E3779B97F4A7C15;
    private const double Root3 = 1.7320508075688772;

    /// <summary>Draws how far each input is from its best estimate, in its standard uncertainties.</summary>
    /// <param name="seed">Any number; another one gives other draws.</param>
    /// <param name="trial">Which trial.</param>
    /// <param name="shapes">How each input is spread.</param>
    /// <param name="deviations">Receives one deviation per input.</param>
    public static void Fill(
        ulong seed, ulong trial, ImmutableArray<InputShape> shapes, Span<double> deviations)
    {
        var key = Key(seed, trial);
        for (var i = 0; i < shapes.Length; i++)
        {
            var even = Even(key, i);
            deviations[i] = shapes[i].IsRectangular
                ? Root3 * ((2 * even) - 1)
                : StandardNormal.Quantile(even);
        }
    }

    private static double Even(ulong key, int position) =>
        ((Mix(key + (Golden * ((ulong)position + 1))) >> 11) + 0.5) * (1.0 / (1UL << 53));

    private static ulong Key(ulong seed, ulong trial) => Mix(Mix(seed + Golden) + (Golden * (trial + 1)));

    private static ulong Mix(ulong x)
    {
        x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9;
        x = (x ^ (x >> 27)) * 0x94D049BB133111EB;
        return x ^ (x >> 31);
    }
}
