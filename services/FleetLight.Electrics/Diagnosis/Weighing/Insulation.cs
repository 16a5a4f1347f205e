using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>What insulation resistance a circuit has: a log-normal quantity, by its logarithm in MΩ.</summary>
/// <remarks>
/// Stated models, judgement of the trade without a source. Sound: about 100 MΩ, within a factor of 5 at one standard
/// deviation. Water between the cores: as much as the leak, within a factor of 3, for the water also leads to earth. Cores
/// that touch: about 0.1 MΩ within a factor of 30, for it depends on whether the test was made between the cores or to
/// earth and on what crushed them.
/// </remarks>
internal readonly record struct Insulation(double LogMegohms, double SharedVariance)
{
    // Where along the circuit and how long the tester was held.
    private const double OwnFactor = 1.3;

    private const double SoundMegohms = 100;
    private const double SoundFactor = 5;
    private const double WetFactor = 3;
    private const double TouchMegohms = 0.1;
    private const double TouchFactor = 30;

    // Below this a leak counts as a touch, Ω.
    private const double TouchOhms = 10;

    /// <summary>Variance of a single test's logarithm.</summary>
    public static double OwnVariance => Math.Log(OwnFactor) * Math.Log(OwnFactor);

    /// <summary>The insulation of a circuit with changes.</summary>
    public static Insulation Of(ImmutableArray<CircuitChange> changes)
    {
        var least = double.PositiveInfinity;
        foreach (var change in changes.OrEmpty())
            if (change is CoresBridged bridge) least = Math.Min(least, bridge.Ohms);
        if (double.IsPositiveInfinity(least)) return new(Math.Log(SoundMegohms), Square(Math.Log(SoundFactor)));
        return least < TouchOhms
            ? new(Math.Log(TouchMegohms), Square(Math.Log(TouchFactor)))
            : new(Math.Log(Parallel(least / 1e6, SoundMegohms)), Square(Math.Log(WetFactor)));
    }

    private static double Parallel(double one, double other) => one * other / (one + other);

    private static double Square(double value) => value * value;
}
