namespace FleetLight.Contracts.Calculations.Answers;

/// <summary>What a circuit should read.</summary>
public sealed record ExpectedAnswer : CircuitAnswer
{
    /// <summary>What a sound circuit should read; left out where <c>noAnswer</c> says why.</summary>
    public ExpectedFigures? Expected { get; init; }

    /// <summary>What a simulation says of the same, where it was asked for and the circuit has an operating point.</summary>
    public SimulatedFigures? Simulated { get; init; }

    /// <summary>How the driver's voltage stands to the limits of extra-low voltage.</summary>
    public required TouchAnswer Touch { get; init; }
}

/// <summary>What a sound circuit should read.</summary>
public sealed record ExpectedFigures
{
    /// <summary>Voltage at the driver's output, in V DC.</summary>
    public required EstimatedValue DriverVoltsDc { get; init; }

    /// <summary>Current at the driver's output, in mA.</summary>
    public required EstimatedValue DriverMilliamps { get; init; }

    /// <summary>Power at the driver's output, in W.</summary>
    public required EstimatedValue DriverWatts { get; init; }

    /// <summary>Resistance of the cable alone, driver off and every fitting bridged, in Ω (constant current).</summary>
    public EstimatedValue? CableLoopOhms { get; init; }

    /// <summary>The same with every conductor at the IEC 60228 maximum, in Ω (constant current).</summary>
    public double? CableLoopOhmsAtMost { get; init; }

    /// <summary>How much of the driver's rating is used.</summary>
    public required LoadingAnswer Loading { get; init; }

    /// <summary>
    /// Greatest voltage drop in the cable, % of the driver's voltage: to the worst fitting on constant voltage, round the loop on
    /// constant current.
    /// </summary>
    public required double WorstDropPercent { get; init; }

    /// <summary>Each fitting, in the order of the request.</summary>
    public required IReadOnlyList<FittingFigures> Fittings { get; init; }

    /// <summary>Every place that a run leads to (constant voltage).</summary>
    public required IReadOnlyList<PlaceFigures> Places { get; init; }

    /// <summary>Remarks on the circuit that do not hinder the answer.</summary>
    public required IReadOnlyList<Remark> Remarks { get; init; }
}

/// <summary>What one fitting should show.</summary>
public sealed record FittingFigures
{
    /// <summary>The fitting.</summary>
    public required string FittingId { get; init; }

    /// <summary>Voltage across it, in V DC.</summary>
    public required EstimatedValue VoltsDc { get; init; }

    /// <summary>Power it takes, in W.</summary>
    public required double Watts { get; init; }
}

/// <summary>What one place of a constant-voltage circuit should show.</summary>
public sealed record PlaceFigures
{
    /// <summary>The place: a fitting or the end of a run.</summary>
    public required string Place { get; init; }

    /// <summary>Voltage between its conductors, in V DC.</summary>
    public required EstimatedValue VoltsDc { get; init; }
}

/// <summary>How much of the driver's rating is used. What is not given of the rating is left out.</summary>
public sealed record LoadingAnswer
{
    /// <summary>Output voltage, % of the greatest.</summary>
    public double? PercentOfMostVolts { get; init; }

    /// <summary>Output power, % of the greatest.</summary>
    public double? PercentOfMostWatts { get; init; }

    /// <summary>Output current, % of the greatest.</summary>
    public double? PercentOfMostAmps { get; init; }
}

/// <summary>A remark on a circuit.</summary>
public sealed record Remark
{
    /// <summary>What it is, for programs.</summary>
    public required RemarkCode Code { get; init; }

    /// <summary>The same in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>The member of the request that it is about.</summary>
    public required string Field { get; init; }
}

/// <summary>How the driver's voltage stands to the limits of extra-low voltage. Advice, never a certificate.</summary>
public sealed record TouchAnswer
{
    /// <summary>The limit it keeps.</summary>
    public required TouchLimit Limit { get; init; }

    /// <summary>The voltage that decided it, in V DC; left out where none is given.</summary>
    public double? VoltsDc { get; init; }

    /// <summary>Which of the driver's voltages that is.</summary>
    public required TouchBasis Basis { get; init; }

    /// <summary>The same in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>The published source of the limits.</summary>
    public required string Source { get; init; }
}
