using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Calculations.Requests;

/// <summary>What should this circuit read, and how sure is that?</summary>
public sealed record ExpectedRequest
{
    /// <summary>The circuit.</summary>
    public required CircuitInput Circuit { get; init; }

    /// <summary>What to assume in place of the stated defaults.</summary>
    public AssumptionsInput? Assumptions { get; init; }

    /// <summary>Whether the answer has the uncertainty budget of every single fitting and place too; not where absent.</summary>
    public bool? PartBudgets { get; init; }

    /// <summary>How uncertainty is worked out; <c>first-order</c> where absent.</summary>
    public UncertaintyMethod? Method { get; init; }

    /// <summary>How to simulate, where the method is <c>monte-carlo</c>; the stated defaults where absent.</summary>
    public SimulationInput? Simulation { get; init; }
}

/// <summary>How to simulate. Circuits of at most 500 fittings and runs together are simulated.</summary>
public sealed record SimulationInput
{
    /// <summary>Seed of the draws, no unit, 0 to 2,147,483,647; 1 where absent. The same one gives the same answer.</summary>
    [Quantity("1", 0, int.MaxValue)]
    public int? Seed { get; init; }

    /// <summary>
    /// Number of trials at most, 20,000 to 1,000,000; 200,000 where absent. Fewer are made where the results are stable before,
    /// or trials times fittings and runs would pass 40,000,000.
    /// </summary>
    [Quantity("1", 20_000, 1_000_000)]
    public int? MostTrials { get; init; }

    /// <summary>
    /// Number of significant digits of the standard uncertainty that are meant to be right, 1 or 2; 1 where absent (JCGM 101,
    /// clause 7.9).
    /// </summary>
    [Quantity("1", 1, 2)]
    public int? SignificantDigits { get; init; }
}
