using System.Text;

namespace FleetLight.Demo;

/// <summary>
/// Chance that repeats: the same seed and stream give the same draws on every machine and every version of .NET, which
/// the framework's own generator does not promise. Every part of the fleet draws from a stream of its own, so that a
/// change in one part leaves the others as they were.
/// </summary>
internal sealed class Chance
{
    private ulong state;

    private Chance(ulong state) => this.state = state;

    /// <summary>The stream of that name under the seed.</summary>
    public static Chance Of(long seed, string stream)
    {
        // FNV-1a: string.GetHashCode differs from run to run.
        var hash = 14695981039346656037UL;
        foreach (var each in Encoding.UTF8.GetBytes(stream)) hash = (hash ^ each) * 1099511628211UL;
        return new Chance(hash ^ ((ulong)seed * 0x9E3779B97F4A7C15UL));
    }

    /// <summary>Even between 0 and 1, 1 excluded.</summary>
    public double Unit() => (Bits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Even between two values.</summary>
    public double Between(double low, double high) => low + ((high - low) * Unit());

    /// <summary>A whole number, both ends included.</summary>
    public int Whole(int least, int most) => least + (int)((most - least + 1) * Unit());

    /// <summary>True in that share of the draws.</summary>
    public bool Once(double share) => Unit() < share;

    /// <summary>One of a list.</summary>
    public T Pick<T>(IReadOnlyList<T> from) => from[Whole(0, from.Count - 1)];

    /// <summary>Normal about 0 with a standard deviation, drawn again beyond the limit.</summary>
    public double Spread(double deviation, double limit)
    {
        while (true)
        {
            var value = deviation * Math.Sqrt(-2 * Math.Log(1 - Unit())) * Math.Cos(2 * Math.PI * Unit());
            if (Math.Abs(value) <= limit) return value;
        }
    }

    /// <summary>The list in a drawn order.</summary>
    public T[] Shuffled<T>(IEnumerable<T> list)
    {
        var drawn = list.ToArray();
        for (var index = drawn.Length - 1; index > 0; index--)
        {
            var other = Whole(0, index);
            (drawn[index], drawn[other]) = (drawn[other], drawn[index]);
        }

        return drawn;
    }

    // SplitMix64 (Steele, Lea and Flood, 2014): one addition and a mix a draw.
    private ulong Bits()
    {
        state += 0x9E3779B97F4A7C15UL;
        var mixed = state;
        mixed = (mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9UL;
        mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EBUL;
        return mixed ^ (mixed >> 31);
    }
}
