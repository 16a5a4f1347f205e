using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>How an organisation wants its circuits judged. What is absent stays at the stated default.</summary>
public sealed record JudgingSettings
{
    /// <summary>Greatest risk of calling a sound circuit outside, %, 0.01 to 20; 0.3 where absent.</summary>
    [Quantity("%", 0.01, 20)]
    public double? FalseAlarmPercent { get; init; }

    /// <summary>Greatest risk of calling a circuit within that is not as designed, %, 0.1 to 50; 5 where absent.</summary>
    [Quantity("%", 0.1, 50)]
    public double? MissedFaultPercent { get; init; }

    /// <summary>Share of circuits that are as designed before anything is measured, %, 1 to 99.9; 90 where absent.</summary>
    [Quantity("%", 1, 99.9)]
    public double? AsDesignedPercent { get; init; }

    /// <summary>
    /// The smallest difference from what a circuit should read that matters, %, 0.1 to 100; any where absent.
    /// </summary>
    [Quantity("%", 0.1, 100)]
    public double? SmallestDifferencePercent { get; init; }

    /// <summary>The wattages of fittings that the crews carry, W, 0.05 to 500; general ones where absent.</summary>
    [List(1, 64)]
    [Quantity("W", 0.05, 500)]
    public double[]? CatalogueWatts { get; init; }

    /// <summary>The output currents of drivers that the crews carry, mA, 1 to 20,000; general ones where absent.</summary>
    [List(1, 16)]
    [Quantity("mA", 1, 20000)]
    public double[]? DriverMilliamps { get; init; }

    /// <summary>The output voltages of drivers that the crews carry, V DC, 1 to 400; general ones where absent.</summary>
    [List(1, 16)]
    [Quantity("V", 1, 400)]
    public double[]? DriverVolts { get; init; }

    /// <summary>
    /// How common faults are before anything is measured, where the organisation knows better than the catalogue's stated
    /// priors; none where absent. Each fault once.
    /// </summary>
    [List(1, 50)]
    public PriorInput[]? Priors { get; init; }

    /// <summary>
    /// What measuring takes the organisation's crews: to reach a box, to dig one out, to open a fitting, and to measure. The
    /// stated defaults where absent.
    /// </summary>
    public EffortInput? Effort { get; init; }

    /// <summary>The probability at which an explanation is taken as found, %, 51 to 99.9; 95 where absent.</summary>
    [Quantity("%", 51, 99.9)]
    public double? StopAtPercent { get; init; }

    /// <summary>Conductor temperature in the ground, °C, −30 to 60; 15 where absent.</summary>
    [Quantity("degC", -30, 60)]
    public double? BuriedCelsius { get; init; }

    /// <summary>Conductor temperature in open air, °C, −40 to 80; 20 where absent.</summary>
    [Quantity("degC", -40, 80)]
    public double? InAirCelsius { get; init; }

    /// <summary>Conductor temperature in a warm enclosure, °C, 0 to 100; 50 where absent.</summary>
    [Quantity("degC", 0, 100)]
    public double? WarmBoxCelsius { get; init; }

    /// <summary>Days before a limit may be crossed at which a slow drift is told, 1 to 365; 60 where absent.</summary>
    [Quantity("d", 1, 365)]
    public double? DriftLeadDays { get; init; }
}

/// <summary>The settings in force, and since when.</summary>
public sealed record JudgingView
{
    /// <summary>Counts up with every change; 0 while the defaults are in force; no unit.</summary>
    public required int Version { get; init; }

    /// <summary>Since when; absent while the defaults are in force.</summary>
    public DateTimeOffset? SetAt { get; init; }

    /// <summary>The key by whose holder they were set.</summary>
    public string? SetBy { get; init; }

    /// <summary>The settings; what is absent is at its default.</summary>
    public required JudgingSettings Settings { get; init; }
}
