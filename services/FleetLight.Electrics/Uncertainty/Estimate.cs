using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>A quantity with its uncertainty (GUM, JCGM 100), in the unit that the holding property names.</summary>
/// <param name="Best">Best estimate.</param>
/// <param name="StandardUncertainty">Combined standard uncertainty.</param>
/// <param name="LargestRectangular">
/// Standard uncertainty of the largest single rectangular contribution in it; zero where none. With the other
/// rectangular ones it shapes the coverage interval: a quantity that a few stated tolerances dominate has no long tails.
/// </param>
/// <param name="Low95">Lower end of the 95 % coverage interval.</param>
/// <param name="High95">Upper end of the 95 % coverage interval.</param>
/// <param name="Budget">The contributions, largest first.</param>
public sealed record Estimate(
    double Best,
    double StandardUncertainty,
    double LargestRectangular,
    double Low95,
    double High95,
    ImmutableArray<UncertaintyContribution> Budget)
{
    /// <summary>Standard uncertainty of the second largest rectangular contribution; zero where none.</summary>
    public double SecondRectangular { get; init; }

    /// <summary>
    /// Fourth root of the sum of the fourth powers of the standard uncertainties of all smaller rectangular contributions;
    /// zero where none.
    /// </summary>
    public double OtherRectangulars { get; init; }

    /// <summary>
    /// Half-width of the interval about the best estimate that holds the true value with a probability from 0 to below 1,
    /// in the unit of the estimate.
    /// </summary>
    public double HalfInterval(double probability) => Shape.Half(probability);

    /// <summary>How the true value is spread about the best estimate.</summary>
    internal Spread Shape =>
        new(StandardUncertainty, LargestRectangular, SecondRectangular, OtherRectangulars);

    /// <summary>An estimate whose interval follows from its uncertainty.</summary>
    internal static Estimate Of(double best, Spread spread, ImmutableArray<UncertaintyContribution> budget)
    {
        var half = spread.Half(0.95);
        return new Estimate(
            best, spread.StandardUncertainty, spread.Largest, best - half, best + half, budget)
        {
            SecondRectangular = spread.Second,
            OtherRectangulars = spread.Others,
        };
    }
}

/// <summary>One line of an uncertainty budget.</summary>
/// <param name="Source">What it comes from.</param>
/// <param name="StandardUncertainty">Its part of the standard uncertainty, in the unit of the estimate.</param>
/// <param name="SharePercent">Its share of the variance, %.</param>
public readonly record struct UncertaintyContribution(
    UncertaintySource Source, double StandardUncertainty, double SharePercent);

/// <summary>Where uncertainty comes from.</summary>
public enum UncertaintySource
{
    /// <summary>The driver's output differs from its rating; it acts on every fitting at once.</summary>
    DriverOutput,

    /// <summary>Each fitting's power differs from its rating, each on its own.</summary>
    FittingPower,

    /// <summary>The fittings are colder or warmer than their rating assumes, all together.</summary>
    FittingTemperature,

    /// <summary>Each recorded length is somewhat wrong, each on its own.</summary>
    CableLength,

    /// <summary>The conductors are colder or warmer than assumed, together where they lie alike.</summary>
    ConductorTemperature,

    /// <summary>The conductors lie somewhere below the IEC 60228 maximum, all together.</summary>
    ConductorResistance,

    /// <summary>The meter.</summary>
    Meter,
}
