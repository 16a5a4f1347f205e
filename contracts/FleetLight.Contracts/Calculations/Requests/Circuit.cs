using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Calculations.Requests;

/// <summary>A circuit as designed or as built: one driver and what hangs on it.</summary>
public sealed record CircuitInput
{
    /// <summary>How it is driven.</summary>
    public required DriveKind Drive { get; init; }

    /// <summary>Its driver.</summary>
    public required DriverInput Driver { get; init; }

    /// <summary>
    /// Its fittings, 1 to 10,000; none only where some are asked to be added. On constant current in the order in which the loop
    /// passes them, from the driver's positive end.
    /// </summary>
    [List(0, CalculationLimits.MostFittings)]
    public required FittingInput[] Fittings { get; init; }

    /// <summary>
    /// Its cable runs, 0 to 10,000. On constant current they are one loop and may be left empty; on constant voltage every
    /// fitting is reached from <c>driver</c> by runs, which may branch and close rings, but not interlace hundreds of them.
    /// </summary>
    [List(0, CalculationLimits.MostRuns)]
    public required RunInput[] Runs { get; init; }
}

/// <summary>A driver: the unit that feeds a circuit. What is not known stays absent.</summary>
public sealed record DriverInput
{
    /// <summary>Rated output current, mA, 1 to 100,000; needed for constant current.</summary>
    [Quantity("mA", 1, 100_000)]
    public double? RatedMilliamps { get; init; }

    /// <summary>Rated output voltage, V, 0.001 to 1,500; needed for constant voltage.</summary>
    [Quantity("V", 0.001, 1500)]
    public double? RatedVolts { get; init; }

    /// <summary>Least output voltage at which a constant-current driver regulates, V, 0.001 to 1,500.</summary>
    [Quantity("V", 0.001, 1500)]
    public double? LeastVolts { get; init; }

    /// <summary>Greatest output voltage at which a constant-current driver regulates, V, 0.001 to 1,500.</summary>
    [Quantity("V", 0.001, 1500)]
    public double? MostVolts { get; init; }

    /// <summary>Greatest output power, W, 0.001 to 1,000,000.</summary>
    [Quantity("W", 0.001, 1_000_000)]
    public double? MostWatts { get; init; }

    /// <summary>Greatest output current of a constant-voltage driver, A, 0.001 to 10,000.</summary>
    [Quantity("A", 0.001, 10_000)]
    public double? MostAmps { get; init; }

    /// <summary>Output voltage with nothing connected, V, 0.001 to 1,500. It sets the touch limit.</summary>
    [Quantity("V", 0.001, 1500)]
    public double? OpenCircuitVolts { get; init; }

    /// <summary>
    /// Limit of the deviation of the regulated output (current or voltage) from its rating, ± %, 0 to 99; 5 where absent.
    /// </summary>
    [Quantity("%", 0, 99)]
    public double? TolerancePercent { get; init; }
}

/// <summary>A fitting.</summary>
public sealed record FittingInput
{
    /// <summary>The fitting; its id is also the place where it hangs, and none else has it. Not <c>driver</c>.</summary>
    [ThingId]
    public required string FittingId { get; init; }

    /// <summary>Power at the driver's rated output, or at <c>statedMilliamps</c>, W, 0.001 to 10,000.</summary>
    [Quantity("W", 0.001, 10_000)]
    public required double RatedWatts { get; init; }

    /// <summary>Limit of the deviation of the power from its rating, ± %, 0 to 99; 5 where absent.</summary>
    [Quantity("%", 0, 99)]
    public double? TolerancePercent { get; init; }

    /// <summary>
    /// Least voltage at which it works as rated, V, 0.001 to 1,500; below it the fitting goes dark and takes no current
    /// (constant voltage).
    /// </summary>
    [Quantity("V", 0.001, 1500)]
    public double? LeastVolts { get; init; }

    /// <summary>How its current follows its voltage (constant voltage); <c>constant-power</c> where absent.</summary>
    public LoadKind? Load { get; init; }

    /// <summary>
    /// Current at which its watts are stated, mA, 1 to 100,000 (constant current); the driver's rated current where absent.
    /// </summary>
    [Quantity("mA", 1, 100_000)]
    public double? StatedMilliamps { get; init; }

    /// <summary>
    /// Whether a diode carries the current past it where it is connected the wrong way round (constant current); not known where
    /// absent.
    /// </summary>
    public bool? BypassDiode { get; init; }

    /// <summary>The cable by which it hangs on its place; none where that is part of a run or too short to count.</summary>
    public TailInput? Tail { get; init; }

    /// <summary>What kind of fitting it is, for the wording of answers only.</summary>
    [Text(80)]
    public string? Description { get; init; }
}

/// <summary>The cable tail of a fitting: out and back.</summary>
public sealed record TailInput
{
    /// <summary>Length of cable, m, 0 to 1,000.</summary>
    [Quantity("m", 0, 1000)]
    public required double LengthMetres { get; init; }

    /// <summary>Conductor area, mm²: one of the IEC 60228 areas from 0.5 to 16.</summary>
    [Quantity("mm2", 0.5, 16)]
    public required double AreaSquareMillimetres { get; init; }

    /// <summary>Conductor class of IEC 60228.</summary>
    public required ConductorClass ConductorClass { get; init; }
}

/// <summary>A run of cable between two places of a circuit.</summary>
public sealed record RunInput
{
    /// <summary>The run; no other has its id.</summary>
    [ThingId]
    public required string RunId { get; init; }

    /// <summary>Where it starts: <c>driver</c>, a fitting or any other place, such as a box.</summary>
    [ThingId]
    public required string From { get; init; }

    /// <summary>Where it ends.</summary>
    [ThingId]
    public required string To { get; init; }

    /// <summary>Length of cable, m, 0 to 100,000.</summary>
    [Quantity("m", 0, 100_000)]
    public required double LengthMetres { get; init; }

    /// <summary>Conductor area, mm²: one of the IEC 60228 areas from 0.5 to 16. Nothing is interpolated.</summary>
    [Quantity("mm2", 0.5, 16)]
    public required double AreaSquareMillimetres { get; init; }

    /// <summary>Conductor class of IEC 60228.</summary>
    public required ConductorClass ConductorClass { get; init; }

    /// <summary>Limit of the deviation of the length, ± %, 0 to 99; 5 where absent.</summary>
    [Quantity("%", 0, 99)]
    public double? LengthTolerancePercent { get; init; }

    /// <summary>Where it lies, which sets the conductor temperature that is assumed; <c>buried</c> where absent.</summary>
    public RunSurroundings? Surroundings { get; init; }

    /// <summary>Conductor temperature where it is known better than by the surroundings, °C, −60 to 150.</summary>
    [Quantity("degC", -60, 150)]
    public double? ConductorCelsius { get; init; }

    /// <summary>Conductors of the run that the current passes, 1 or 2; 2 (out and back) where absent.</summary>
    [Quantity("1", 1, 2)]
    public int? ConductorsInLoop { get; init; }

    /// <summary>Resistance of its joints together, out and back, Ω, 0 to 1,000; 0 where absent.</summary>
    [Quantity("ohm", 0, 1000)]
    public double? JointOhms { get; init; }
}
