namespace FleetLight.Contracts.Facts;

/// <summary>A driver: the unit that feeds a circuit.</summary>
public sealed record DriverDesign
{
    /// <summary>Rated output current, mA, 1 to 20,000; needed for constant current.</summary>
    [Quantity("mA", 1, 20000)]
    public double? RatedMilliamps { get; init; }

    /// <summary>Rated output voltage, V, 1 to 400; needed for constant voltage.</summary>
    [Quantity("V", 1, 400)]
    public double? RatedVolts { get; init; }

    /// <summary>Least output voltage at which a constant-current driver regulates, V, 0 to 400.</summary>
    [Quantity("V", 0, 400)]
    public double? LeastVolts { get; init; }

    /// <summary>Greatest output voltage at which a constant-current driver regulates, V, 1 to 400.</summary>
    [Quantity("V", 1, 400)]
    public double? MostVolts { get; init; }

    /// <summary>Greatest output power, W, 0.1 to 5,000.</summary>
    [Quantity("W", 0.1, 5000)]
    public double? MostWatts { get; init; }

    /// <summary>Greatest output current of a constant-voltage driver, A, 0.01 to 500.</summary>
    [Quantity("A", 0.01, 500)]
    public double? MostAmps { get; init; }

    /// <summary>Output voltage with nothing connected, V, 1 to 600. It sets the touch class.</summary>
    [Quantity("V", 1, 600)]
    public double? OpenCircuitVolts { get; init; }

    /// <summary>Tolerance of the regulated output, ± %, 0 to 30; 5 where absent.</summary>
    [Quantity("%", 0, 30)]
    public double? TolerancePercent { get; init; }
}

/// <summary>A fitting as designed.</summary>
public sealed record FittingDesign
{
    /// <summary>The fitting.</summary>
    [ThingId]
    public required string FittingId { get; init; }

    /// <summary>Rated power at the circuit's drive, W, 0.05 to 500.</summary>
    [Quantity("W", 0.05, 500)]
    public required double RatedWatts { get; init; }

    /// <summary>Tolerance of the rated power, ± %, 0 to 50; 5 where absent.</summary>
    [Quantity("%", 0, 50)]
    public double? TolerancePercent { get; init; }

    /// <summary>Least voltage at which it works, V, 0 to 400 (constant voltage).</summary>
    [Quantity("V", 0, 400)]
    public double? LeastVolts { get; init; }

    /// <summary>What it is, in words.</summary>
    [Text(80)]
    public string? Description { get; init; }

    /// <summary>How its current follows its voltage; constant power where absent (constant voltage).</summary>
    public LoadKind? Load { get; init; }

    /// <summary>
    /// Current at which its rated power is stated, mA, 1 to 20,000; the driver's rated current where absent (constant
    /// current).
    /// </summary>
    [Quantity("mA", 1, 20000)]
    public double? StatedMilliamps { get; init; }

    /// <summary>Whether a diode carries the current past it where it is connected the wrong way round (constant current).</summary>
    public bool? BypassDiode { get; init; }

    /// <summary>Its own cable tail, where it is not part of a run.</summary>
    public TailDesign? Tail { get; init; }
}

/// <summary>The cable tail of a fitting, out and back.</summary>
public sealed record TailDesign
{
    /// <summary>Length of cable, m, 0.1 to 100.</summary>
    [Quantity("m", 0.1, 100)]
    public required double LengthMetres { get; init; }

    /// <summary>Conductor area, mm², 0.2 to 50.</summary>
    [Quantity("mm2", 0.2, 50)]
    public required double AreaSquareMillimetres { get; init; }

    /// <summary>Conductor class of IEC 60228.</summary>
    public required ConductorClass ConductorClass { get; init; }
}

/// <summary>A run of cable between two places of a circuit.</summary>
public sealed record RunDesign
{
    /// <summary>The run.</summary>
    [ThingId]
    public required string RunId { get; init; }

    /// <summary>Where it starts, nearer the driver: <c>driver</c>, a fitting or a box.</summary>
    [ThingId]
    public required string From { get; init; }

    /// <summary>Where it ends: a fitting or a box.</summary>
    [ThingId]
    public required string To { get; init; }

    /// <summary>Length of cable, m, 0.1 to 5,000.</summary>
    [Quantity("m", 0.1, 5000)]
    public required double LengthMetres { get; init; }

    /// <summary>Conductor area, mm², 0.2 to 50.</summary>
    [Quantity("mm2", 0.2, 50)]
    public required double AreaSquareMillimetres { get; init; }

    /// <summary>Conductor class of IEC 60228.</summary>
    public required ConductorClass ConductorClass { get; init; }

    /// <summary>Where it lies; in the ground where absent.</summary>
    public RunSurroundings? Surroundings { get; init; }

    /// <summary>The cable that makes the run, where it is known; its recorded length and area then count.</summary>
    [ThingId]
    public string? CableId { get; init; }

    /// <summary>Conductors of the run that the current passes, 1 or 2; 2 (out and back) where absent.</summary>
    [Quantity("1", 1, 2)]
    public int? ConductorsInLoop { get; init; }

    /// <summary>Resistance of its joints together, out and back, Ω, 0 to 10; none is taken into account where absent.</summary>
    [Quantity("ohm", 0, 10)]
    public double? JointOhms { get; init; }
}

/// <summary>A circuit was designed, or its design was changed: the newest design counts.</summary>
[FactType("fleetlight.circuit.designed.v1")]
public sealed record CircuitDesigned : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The circuit.</summary>
    [ThingId]
    public required string CircuitId { get; init; }

    /// <summary>What people call it.</summary>
    [Text(120)]
    public required string Name { get; init; }

    /// <summary>How it is driven.</summary>
    public required DriveKind Drive { get; init; }

    /// <summary>Its driver.</summary>
    public required DriverDesign Driver { get; init; }

    /// <summary>Its fittings in the order in which the current or the cable reaches them.</summary>
    [List(1, 200)]
    public required FittingDesign[] Fittings { get; init; }

    /// <summary>Its cable runs.</summary>
    [List(0, 400)]
    public required RunDesign[] Runs { get; init; }

    /// <summary>Whether it has a mains side that is part of this job, so that its tests are due.</summary>
    public bool MainsSide { get; init; }
}

/// <summary>A fitting was fixed in its place.</summary>
[FactType("fleetlight.fitting.fixed.v1")]
public sealed record FittingFixed : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The circuit.</summary>
    [ThingId]
    public required string CircuitId { get; init; }

    /// <summary>The fitting.</summary>
    [ThingId]
    public required string FittingId { get; init; }

    /// <summary>Rated power on its plate, W, 0.05 to 500, where it was read; it then counts in place of the designed one.</summary>
    [Quantity("W", 0.05, 500)]
    public double? RatedWatts { get; init; }

    /// <summary>Where it is.</summary>
    public GeoPoint? Position { get; init; }
}

/// <summary>The driver was connected to its circuit.</summary>
[FactType("fleetlight.driver.connected.v1")]
public sealed record DriverConnected : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The circuit.</summary>
    [ThingId]
    public required string CircuitId { get; init; }

    /// <summary>The driver as fitted, where it is not the designed one; it then counts in its place.</summary>
    public DriverDesign? Driver { get; init; }

    /// <summary>Where it is, in words.</summary>
    [Text(200)]
    public string? At { get; init; }

    /// <summary>Where it is.</summary>
    public GeoPoint? Position { get; init; }
}

/// <summary>A circuit was energised.</summary>
[FactType("fleetlight.circuit.energised.v1")]
public sealed record CircuitEnergised : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The circuit.</summary>
    [ThingId]
    public required string CircuitId { get; init; }

    /// <summary>Fittings seen not to light.</summary>
    [ThingId]
    [List(0, 200)]
    public string[]? UnlitFittingIds { get; init; }
}

/// <summary>A circuit was handed over to its owner.</summary>
[FactType("fleetlight.circuit.handed-over.v1")]
public sealed record CircuitHandedOver : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The circuit.</summary>
    [ThingId]
    public required string CircuitId { get; init; }

    /// <summary>Anything said at the handover.</summary>
    [Text(500)]
    public string? Note { get; init; }
}

/// <summary>A fault was reported.</summary>
[FactType("fleetlight.fault.reported.v1")]
public sealed record FaultReported : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The circuit.</summary>
    [ThingId]
    public required string CircuitId { get; init; }

    /// <summary>The fault.</summary>
    [ThingId]
    public required string FaultId { get; init; }

    /// <summary>What was seen.</summary>
    [Text(500)]
    public required string What { get; init; }
}

/// <summary>A repair was made.</summary>
[FactType("fleetlight.repair.made.v1")]
public sealed record RepairMade : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The circuit.</summary>
    [ThingId]
    public required string CircuitId { get; init; }

    /// <summary>What was done.</summary>
    [Text(500)]
    public required string What { get; init; }

    /// <summary>The reported faults that it mends.</summary>
    [ThingId]
    [List(0, 20)]
    public string[]? FaultIds { get; init; }
}
