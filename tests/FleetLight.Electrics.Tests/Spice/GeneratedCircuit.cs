using System.Collections.Immutable;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>A generated circuit with what is changed in it.</summary>
/// <param name="Name">Its kind, number and seed, by which it can be made again.</param>
/// <param name="Model">The record.</param>
/// <param name="Assumptions">The assumptions.</param>
/// <param name="Changes">How the circuit differs from its record.</param>
internal sealed record GeneratedCircuit(
    string Name, CircuitModel Model, Assumptions Assumptions, ImmutableArray<CircuitChange> Changes)
{
    public string ChangesText => Changes.IsEmpty ? "as recorded" : string.Join(", ", Changes);
}

/// <summary>Chance with the distributions that circuits need.</summary>
internal sealed class Chance
{
    private readonly Random random;

    /// <summary>Chance for one circuit: it depends on nothing but these three.</summary>
    public Chance(int seed, int kind, int number) => random = new Random((seed * 1009) + (kind * 10_007) + number);

    /// <summary>From least to most, both included.</summary>
    public int Whole(int least, int most) => random.Next(least, most + 1);

    public double Between(double least, double most) => least + ((most - least) * random.NextDouble());

    /// <summary>Evenly spread over the logarithm.</summary>
    public double Log(double least, double most) => least * Math.Pow(most / least, random.NextDouble());

    public bool OneIn(int many) => random.Next(many) == 0;

    public T Of<T>(params ReadOnlySpan<T> choices) => choices[random.Next(choices.Length)];

    /// <summary>The stated defaults or others.</summary>
    public Assumptions Assumptions() => OneIn(2) ? Electrics.Assumptions.Default : new Assumptions
    {
        Buried = new(Between(-5, 30), 5),
        InAir = new(Between(-20, 45), 10),
        WarmBox = new(Between(30, 70), 10),
        ConductorBelowMaximumPercent = Between(0, 12),
        Led = new LedCurve(Between(0.02, 0.04), Between(0.03, 0.2)),
    };

    /// <summary>A run of any cable that the trade lays.</summary>
    public RunModel Run(string id, string from, string to, double metres, ReadOnlySpan<double> areas)
    {
        // A run may be recorded from either end.
        var (a, b) = OneIn(3) ? (to, from) : (from, to);
        return new RunModel(id, a, b, metres, Of(areas), Of(Enum.GetValues<Contracts.ConductorClass>()))
        {
            Surroundings = Of(Enum.GetValues<Contracts.RunSurroundings>()),
            ConductorCelsius = OneIn(5) ? Between(-10, 60) : null,
            JointOhms = OneIn(4) ? Between(0, 0.02) : 0,
        };
    }

    public TailModel? Tail(int oneIn) => OneIn(oneIn)
        ? new TailModel(Between(0.3, 10), Of(0.5, 0.75, 1.0, 1.5), Of(Enum.GetValues<Contracts.ConductorClass>()))
        : null;
}
