using System.Text.Json.Serialization;

namespace FleetLight.Contracts.Calculations.Answers;

/// <summary>What every answer carries. Advice, never a certificate.</summary>
public abstract record CalculationAnswer
{
    /// <summary>
    /// Running number of the model that worked it out, no unit; it rises when the same request may be answered differently.
    /// </summary>
    [JsonPropertyOrder(-2)]
    public required int ModelVersion { get; init; }
}

/// <summary>What every answer about a circuit carries that may not work as given.</summary>
public abstract record CircuitAnswer : CalculationAnswer
{
    /// <summary>Why there are no figures of the circuit, where there are none: it cannot work as given.</summary>
    [JsonPropertyOrder(-1)]
    public NoAnswer? NoAnswer { get; init; }
}

/// <summary>A sound request whose circuit has no figures: it cannot work as given.</summary>
public sealed record NoAnswer
{
    /// <summary>The reason, for programs.</summary>
    public required NoAnswerReason Reason { get; init; }

    /// <summary>The reason in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>The member of the request that it is about, for instance <c>circuit.driver.mostVolts</c>.</summary>
    public required string Field { get; init; }

    /// <summary>
    /// After a voltage collapse: the greatest total power, in the proportions of the circuit, that the cable could carry, in W.
    /// </summary>
    public double? GreatestWatts { get; init; }
}

/// <summary>A figure with its uncertainty (GUM, JCGM 100). Its unit is the one that the member holding it names.</summary>
public sealed record EstimatedValue
{
    /// <summary>Best estimate, in the unit of the quantity.</summary>
    public required double Value { get; init; }

    /// <summary>Standard uncertainty, same unit.</summary>
    public required double StandardUncertainty { get; init; }

    /// <summary>Lower end of the 95 % interval, same unit.</summary>
    public required double Low { get; init; }

    /// <summary>Upper end of the 95 % interval, same unit.</summary>
    public required double High { get; init; }

    /// <summary>The contributions to the standard uncertainty, largest first; left out where they were not asked for.</summary>
    public IReadOnlyList<BudgetLine>? Budget { get; init; }
}

/// <summary>One line of an uncertainty budget.</summary>
public sealed record BudgetLine
{
    /// <summary>What it comes from.</summary>
    public required BudgetSource Source { get; init; }

    /// <summary>Its part of the standard uncertainty, in the unit of the figure.</summary>
    public required double StandardUncertainty { get; init; }

    /// <summary>Its share of the variance, %.</summary>
    public required double SharePercent { get; init; }
}
