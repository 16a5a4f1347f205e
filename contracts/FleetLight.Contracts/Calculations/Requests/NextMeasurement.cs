using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Calculations.Requests;

/// <summary>Where to measure next, and what?</summary>
public sealed record NextMeasurementRequest
{
    /// <summary>The circuit as recorded, at most 200 fittings and 200 runs.</summary>
    public required CircuitInput Circuit { get; init; }

    /// <summary>What to assume in place of the stated defaults.</summary>
    public AssumptionsInput? Assumptions { get; init; }

    /// <summary>All readings so far, oldest first, 0 to 200; the last 32 usable ones are used.</summary>
    [List(0, CalculationLimits.MostReadings)]
    public required ReadingInput[] Readings { get; init; }

    /// <summary>
    /// The places where a meter can be put, as built, 0 to 400; where absent the driver at hand, every fitting to be opened, and
    /// every other end of a run as a box with its lid at the surface.
    /// </summary>
    [List(0, CalculationLimits.MostPlaces)]
    public PlaceInput[]? Places { get; init; }

    /// <summary>What the diagnosis looks for; the stated defaults where absent.</summary>
    public LookForInput? LookFor { get; init; }

    /// <summary>Measuring ends where one explanation is at least so likely, %, 51 to 99.99; 95 where absent.</summary>
    [Quantity("%", 51, 99.99)]
    public double? EnoughPercent { get; init; }

    /// <summary>
    /// Measuring ends where nothing is expected to tell more than so many bits for an hour of work, bit/h, 0 to 1,000,000; 0.2
    /// where absent.
    /// </summary>
    [Quantity("bit/h", 0, 1_000_000)]
    public double? LeastBitsPerHour { get; init; }

    /// <summary>What measuring takes; the stated defaults where absent.</summary>
    public EffortInput? Effort { get; init; }

    /// <summary>Number of candidates that are answered at most, 1 to 400; 10 where absent.</summary>
    [Quantity("1", 1, CalculationLimits.MostPlaces)]
    public int? MostCandidates { get; init; }
}

/// <summary>A place on the circuit as built where a meter can be put.</summary>
public sealed record PlaceInput
{
    /// <summary><c>driver</c>, a fitting or another place of the circuit.</summary>
    [ThingId]
    public required string Place { get; init; }

    /// <summary>What it takes to get at the conductors there.</summary>
    public required ReachOfPlace Access { get; init; }

    /// <summary>
    /// What it takes to get at the conductors and to close up again, min, 0 to 10,000, where better known than by the access.
    /// </summary>
    [Quantity("min", 0, 10_000)]
    public double? EffortMinutes { get; init; }

    /// <summary>Whether it stands open from an earlier measurement, so that getting there costs the walk only; not where absent.</summary>
    public bool? IsOpen { get; init; }
}

/// <summary>What measuring takes, in minutes of one person. The defaults are common practice, no source.</summary>
public sealed record EffortInput
{
    /// <summary>To walk to a place and to write the reading down, min, 0 to 10,000; 2 where absent.</summary>
    [Quantity("min", 0, 10_000)]
    public double? WalkMinutes { get; init; }

    /// <summary>To open a box whose lid lies at the surface, and to close it again, min, 0 to 10,000; 5 where absent.</summary>
    [Quantity("min", 0, 10_000)]
    public double? OpenBoxMinutes { get; init; }

    /// <summary>To loosen or open a fitting, and to fix it again, min, 0 to 10,000; 8 where absent.</summary>
    [Quantity("min", 0, 10_000)]
    public double? OpenFittingMinutes { get; init; }

    /// <summary>To dig a box out, open it, and put everything back, min, 0 to 10,000; 40 where absent.</summary>
    [Quantity("min", 0, 10_000)]
    public double? DigMinutes { get; init; }

    /// <summary>To measure a voltage on conductors that are at hand, min, 0 to 10,000; 1 where absent.</summary>
    [Quantity("min", 0, 10_000)]
    public double? VoltsMinutes { get; init; }

    /// <summary>To measure a current, min, 0 to 10,000; 4 where absent.</summary>
    [Quantity("min", 0, 10_000)]
    public double? MilliampsMinutes { get; init; }

    /// <summary>
    /// To switch the driver off, lock it off and prove it dead, and to switch it on again afterwards, min, 0 to 10,000; 6 where
    /// absent.
    /// </summary>
    [Quantity("min", 0, 10_000)]
    public double? IsolateMinutes { get; init; }

    /// <summary>To measure a resistance on a dead circuit, min, 0 to 10,000; 2 where absent.</summary>
    [Quantity("min", 0, 10_000)]
    public double? OhmsMinutes { get; init; }

    /// <summary>
    /// To bridge or disconnect one fitting for a test on the dead circuit, and to connect it again, min, 0 to 10,000; 5 where
    /// absent.
    /// </summary>
    [Quantity("min", 0, 10_000)]
    public double? BridgeFittingMinutes { get; init; }

    /// <summary>To see whether one fitting more is lit, on a walk past all of them, min, 0 to 10,000; 0.3 where absent.</summary>
    [Quantity("min", 0, 10_000)]
    public double? LookMinutes { get; init; }
}
