using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Calculations.Requests;

/// <summary>May these fittings be added, here?</summary>
public sealed record HeadroomRequest
{
    /// <summary>The circuit as built, at most 1,000 fittings and runs together; it may have no fitting yet.</summary>
    public required CircuitInput Circuit { get; init; }

    /// <summary>What to assume in place of the stated defaults.</summary>
    public AssumptionsInput? Assumptions { get; init; }

    /// <summary>The fittings to add, 1 to 200, in the order in which the cable reaches them; their ids are new to the circuit.</summary>
    [List(1, CalculationLimits.MostAdded)]
    public required FittingInput[] Add { get; init; }

    /// <summary>Where they are to hang.</summary>
    public required WhereInput Where { get; init; }

    /// <summary>How many cores lie spare in the cables of the circuit's runs; of a run that is not named it is not known.</summary>
    [List(0, CalculationLimits.MostSpare)]
    public SpareCoresInput[]? SpareCores { get; init; }

    /// <summary>What the answer is held against; the stated defaults where absent.</summary>
    public HeadroomLimitsInput? Limits { get; init; }
}

/// <summary>
/// Where fittings are to be added: at a place, reached from it over spare cores, on a new run, or over spare cores and then a
/// new run.
/// </summary>
public sealed record WhereInput
{
    /// <summary>The place it begins at: <c>driver</c>, a fitting or another place of the circuit.</summary>
    [ThingId]
    public required string Place { get; init; }

    /// <summary>
    /// The runs whose cables' spare cores lead on from the place, in order, each beginning where the one before ends; none where
    /// absent.
    /// </summary>
    [ThingId]
    [List(0, CalculationLimits.MostSpare)]
    public string[]? SpareRunIds { get; init; }

    /// <summary>The new run; none where the fittings hang where the place or the spare cores end.</summary>
    public NewRunInput? NewRun { get; init; }
}

/// <summary>A cable still to be laid: two cores, out and back.</summary>
public sealed record NewRunInput
{
    /// <summary>Length to the first of the fittings, m, 0 to 100,000.</summary>
    [Quantity("m", 0, 100_000)]
    public required double LengthMetres { get; init; }

    /// <summary>Conductor area, mm²: one of the IEC 60228 areas from 0.5 to 16.</summary>
    [Quantity("mm2", 0.5, 16)]
    public required double AreaSquareMillimetres { get; init; }

    /// <summary>Conductor class of IEC 60228.</summary>
    public required ConductorClass ConductorClass { get; init; }

    /// <summary>Length from each of the fittings to the next, m, 0 to 10,000; 0 where absent: they hang together.</summary>
    [Quantity("m", 0, 10_000)]
    public double? SpacingMetres { get; init; }

    /// <summary>Limit of the deviation of the length, ± %, 0 to 99; 5 where absent.</summary>
    [Quantity("%", 0, 99)]
    public double? LengthTolerancePercent { get; init; }

    /// <summary>Where it will lie; <c>buried</c> where absent.</summary>
    public RunSurroundings? Surroundings { get; init; }
}

/// <summary>Spare cores in the cable of a run.</summary>
public sealed record SpareCoresInput
{
    /// <summary>The run.</summary>
    [ThingId]
    public required string RunId { get; init; }

    /// <summary>Number of its cores that carry nothing and are sound from end to end, 0 to 1,000.</summary>
    [Quantity("1", 0, 1000)]
    public required int Count { get; init; }
}

/// <summary>What adding fittings is held against, and what is tried where the answer is no.</summary>
public sealed record HeadroomLimitsInput
{
    /// <summary>Share of each of the driver's limits that is to stay free, %, 0 to 99; 10 where absent (common practice, no source).</summary>
    [Quantity("%", 0, 99)]
    public double? MarginPercent { get; init; }

    /// <summary>
    /// Greatest drop from the driver to any fitting on constant voltage, every conductor at the IEC 60228 maximum, % of the
    /// driver's volts, 0.1 to 100; 5 where absent (common practice, no source).
    /// </summary>
    [Quantity("%", 0.1, 100)]
    public double? MostDropPercent { get; init; }

    /// <summary>Conductor class of the run whose greatest length is worked out where there is no new run; <c>class5</c> where absent.</summary>
    public ConductorClass? RunClass { get; init; }

    /// <summary>Wattages that could be fitted instead, W, 0.001 to 10,000; none where absent.</summary>
    [List(0, CalculationLimits.MostCatalogueWatts)]
    [Quantity("W", 0.001, 10_000)]
    public double[]? CatalogueWatts { get; init; }

    /// <summary>Number of changes that are proposed at most where the answer is no, 0 to 100; 10 where absent.</summary>
    [Quantity("1", 0, 100)]
    public int? MostProposals { get; init; }

    /// <summary>By what changes are ranked; the stated defaults where absent.</summary>
    public CostsInput? Costs { get; init; }
}

/// <summary>
/// What each kind of change costs beside the others, in any one unit, 0 to 1,000,000. The defaults are common practice, no
/// source: what is decided on paper is cheap, what is dug up is dear.
/// </summary>
public sealed record CostsInput
{
    /// <summary>Fittings of another wattage, once, in any one unit; 1 where absent.</summary>
    [Quantity("1", 0, 1_000_000)]
    public double? OtherWatts { get; init; }

    /// <summary>The new run in a larger conductor, for each step of area, in the same unit; 1 where absent.</summary>
    [Quantity("1", 0, 1_000_000)]
    public double? LargerNewRunPerStep { get; init; }

    /// <summary>The fittings at a nearer place, for each place, in the same unit; 2 where absent.</summary>
    [Quantity("1", 0, 1_000_000)]
    public double? NearerNode { get; init; }

    /// <summary>Spare cores joined in parallel with a run, once, in the same unit; 2 where absent.</summary>
    [Quantity("1", 0, 1_000_000)]
    public double? SpareCoresInParallel { get; init; }

    /// <summary>For each fitting that is left out, in the same unit; 3 where absent.</summary>
    [Quantity("1", 0, 1_000_000)]
    public double? FewerFittingsEach { get; init; }

    /// <summary>Another driver, once, in the same unit; 4 where absent.</summary>
    [Quantity("1", 0, 1_000_000)]
    public double? LargerDriver { get; init; }

    /// <summary>A run that lies already pulled again, once, in the same unit; 8 where absent.</summary>
    [Quantity("1", 0, 1_000_000)]
    public double? LargerExistingRun { get; init; }

    /// <summary>The same, for each step of area, in the same unit; 1 where absent.</summary>
    [Quantity("1", 0, 1_000_000)]
    public double? LargerExistingRunPerStep { get; init; }
}
