using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Calculations.Requests;

/// <summary>What would explain these readings?</summary>
public sealed record DiagnosisRequest
{
    /// <summary>The circuit as recorded, at most 200 fittings and 200 runs.</summary>
    public required CircuitInput Circuit { get; init; }

    /// <summary>What to assume in place of the stated defaults.</summary>
    public AssumptionsInput? Assumptions { get; init; }

    /// <summary>All readings so far, oldest first, 0 to 200; the last 32 usable ones are used.</summary>
    [List(0, CalculationLimits.MostReadings)]
    public required ReadingInput[] Readings { get; init; }

    /// <summary>What to look for; the stated defaults where absent.</summary>
    public LookForInput? LookFor { get; init; }
}

/// <summary>What a diagnosis looks for. The defaults are common practice, no source.</summary>
public sealed record LookForInput
{
    /// <summary>Wattages that fittings on the crew's van may have, W, 0.001 to 10,000; 1, 1.6, 2, 2.6, 3.2 and 4.2 where absent.</summary>
    [List(0, CalculationLimits.MostCatalogueWatts)]
    [Quantity("W", 0.001, 10_000)]
    public double[]? CatalogueWatts { get; init; }

    /// <summary>Output currents that a constant-current driver may have by mistake, mA, 1 to 100,000; 350, 500 and 700 where absent.</summary>
    [List(0, CalculationLimits.MostDrivers)]
    [Quantity("mA", 1, 100_000)]
    public double[]? DriverMilliamps { get; init; }

    /// <summary>Output voltages that a constant-voltage driver may have by mistake, V DC, 0.001 to 1,500; 12, 24 and 48 where absent.</summary>
    [List(0, CalculationLimits.MostDrivers)]
    [Quantity("V", 0.001, 1500)]
    public double[]? DriverVolts { get; init; }

    /// <summary>How common faults are, where that differs from the catalogue's stated priors; none where absent.</summary>
    [List(0, 50)]
    public PriorInput[]? Priors { get; init; }
}

/// <summary>How common a fault is before anything is measured, relative to the others.</summary>
public sealed record PriorInput
{
    /// <summary>The fault.</summary>
    public required KindOfFault Fault { get; init; }

    /// <summary>How common it is, no unit, 0 to 1; 0 for one that is not looked for. "None of these" is always looked for.</summary>
    [Quantity("1", 0, 1)]
    public required double Prior { get; init; }
}
