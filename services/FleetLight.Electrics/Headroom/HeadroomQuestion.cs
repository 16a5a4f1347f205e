using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>May these fittings be added, here?</summary>
/// <param name="Circuit">The circuit as built; it may have no fitting yet.</param>
/// <param name="Fittings">
/// The fittings to add, 1 to 200, in the order in which the cable reaches them; their ids are new to the circuit.
/// </param>
/// <param name="Where">Where they are to hang.</param>
public sealed record HeadroomQuestion(CircuitModel Circuit, ImmutableArray<FittingModel> Fittings, AddedWhere Where)
{
    /// <summary>
    /// How many cores lie spare in the cables of the circuit's runs; a run that is not named is not known.
    /// </summary>
    public ImmutableArray<SpareCores> SpareCores { get; init; } = [];
}

/// <summary>
/// Where fittings are to be added: at a node, reached from it over spare cores, on a new run, or over spare cores and
/// then a new run.
/// </summary>
/// <param name="Node">The node it begins at: "driver", a fitting id or a box id of the circuit.</param>
public sealed record AddedWhere(string Node)
{
    /// <summary>
    /// The runs whose cables' spare cores lead on from the node, in order, each beginning where the one before ends: a
    /// pair of its own of the same length, area and class. Empty where none are used.
    /// </summary>
    public ImmutableArray<string> SpareRunIds { get; init; } = [];

    /// <summary>The new run; null where the fittings hang where the node or the spare cores end.</summary>
    public NewRun? Run { get; init; }
}

/// <summary>A cable still to be laid: two cores, out and back.</summary>
/// <param name="LengthMetres">Length to the first of the fittings, m; 0 to 100,000.</param>
/// <param name="AreaSquareMillimetres">Conductor area, mm²; one of the IEC 60228 areas from 0.5 to 16.</param>
/// <param name="ConductorClass">Conductor class of IEC 60228.</param>
public sealed record NewRun(double LengthMetres, double AreaSquareMillimetres, ConductorClass ConductorClass)
{
    /// <summary>Length from each of the fittings to the next, m; 0 to 10,000. 0 where they hang together.</summary>
    public double SpacingMetres { get; init; }

    /// <summary>Limit of the deviation of the length, ± %; 0 to below 100.</summary>
    public double LengthTolerancePercent { get; init; } = 5;

    /// <summary>Where it will lie.</summary>
    public RunSurroundings Surroundings { get; init; } = RunSurroundings.Buried;
}

/// <summary>Spare cores in the cable of a run.</summary>
/// <param name="RunId">The run.</param>
/// <param name="Count">How many of its cores carry nothing and are sound from end to end; 0 to 1,000.</param>
public readonly record struct SpareCores(string RunId, int Count);

/// <summary>What the answer is held against, and what is tried where it is no.</summary>
public sealed record HeadroomOptions
{
    /// <summary>The stated defaults.</summary>
    public static HeadroomOptions Default { get; } = new();

    /// <summary>
    /// Share of each of the driver's limits that is to stay free, %; 0 to below 100. The default of 10 is common
    /// practice, no source.
    /// </summary>
    public double MarginPercent { get; init; } = 10;

    /// <summary>
    /// Greatest drop from the driver to any fitting on constant voltage, with every conductor at the IEC 60228 maximum,
    /// % of the driver's volts; above 0 to 100, or null for none. The default is
    /// <see cref="VoltageDrop.UsualExtraLowVoltagePercent"/>.
    /// </summary>
    public double? MostDropPercent { get; init; } = VoltageDrop.UsualExtraLowVoltagePercent;

    /// <summary>
    /// Conductor class of the run whose greatest length is worked out where the question has no new run.
    /// </summary>
    public ConductorClass RunClass { get; init; } = ConductorClass.Class5;

    /// <summary>Wattages that could be fitted instead, W; values outside 0.001 to 10,000 are passed over.</summary>
    public ImmutableArray<double> CatalogueWatts { get; init; } = [];

    /// <summary>By what changes are ranked.</summary>
    public ChangeCosts Costs { get; init; } = new();

    /// <summary>How many changes are returned at most; 0 to 100. With 0 none are looked for.</summary>
    public int MostProposals { get; init; } = 10;

    /// <summary>Whether the longest run at each area is worked out, which is most of the work of a yes.</summary>
    public bool WithLongestRuns { get; init; } = true;
}

/// <summary>
/// What each kind of change costs beside the others, in any one unit; 0 to 1,000,000 each. The defaults are common
/// practice, no source: what is decided on paper is cheap, what is dug up is dear.
/// </summary>
public sealed record ChangeCosts
{
    /// <summary>Fittings of another wattage, once.</summary>
    public double OtherWatts { get; init; } = 1;

    /// <summary>The new run in a larger conductor, for each step of area.</summary>
    public double LargerNewRunPerStep { get; init; } = 1;

    /// <summary>The fittings at a nearer node, for each node.</summary>
    public double NearerNode { get; init; } = 2;

    /// <summary>Spare cores joined in parallel with a run, once.</summary>
    public double SpareCoresInParallel { get; init; } = 2;

    /// <summary>For each fitting that is left out.</summary>
    public double FewerFittingsEach { get; init; } = 3;

    /// <summary>Another driver, once.</summary>
    public double LargerDriver { get; init; } = 4;

    /// <summary>A run that lies already pulled again, once.</summary>
    public double LargerExistingRun { get; init; } = 8;

    /// <summary>The same, for each step of area.</summary>
    public double LargerExistingRunPerStep { get; init; } = 1;
}
