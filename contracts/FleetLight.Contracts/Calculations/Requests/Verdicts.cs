using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Calculations.Requests;

/// <summary>Are these readings what a sound circuit would show?</summary>
public sealed record VerdictRequest
{
    /// <summary>The circuit.</summary>
    public required CircuitInput Circuit { get; init; }

    /// <summary>What to assume in place of the stated defaults.</summary>
    public AssumptionsInput? Assumptions { get; init; }

    /// <summary>The readings, 1 to 200; each is judged by itself.</summary>
    [List(1, CalculationLimits.MostReadings)]
    public required ReadingInput[] Readings { get; init; }

    /// <summary>By which risks to judge; the stated defaults where absent.</summary>
    public RuleInput? Rule { get; init; }
}

/// <summary>By which risks readings are judged (JCGM 106). The defaults are judgement of the trade, no source.</summary>
public sealed record RuleInput
{
    /// <summary>Greatest risk of calling a sound circuit outside, %, 0.01 to 20; 0.3 where absent.</summary>
    [Quantity("%", 0.01, 20)]
    public double? FalseAlarmPercent { get; init; }

    /// <summary>
    /// Greatest risk of calling a circuit within that is not as designed, %, 0.1 to 50; 5 where absent: of those that a
    /// measurement calls within, the greatest share that may not be as designed.
    /// </summary>
    [Quantity("%", 0.1, 50)]
    public double? MissedFaultPercent { get; init; }

    /// <summary>Share of circuits that are as designed before anything is measured, %, 1 to 99.9; 90 where absent.</summary>
    [Quantity("%", 1, 99.9)]
    public double? AsDesignedPercent { get; init; }

    /// <summary>The smallest difference from what a circuit should read that matters, %, 0.1 to 100; any where absent.</summary>
    [Quantity("%", 0.1, 100)]
    public double? SmallestDifferencePercent { get; init; }
}
