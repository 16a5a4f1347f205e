using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>A lighting circuit as designed or as built: what is needed to work out what it should read.</summary>
/// <param name="Drive">How the driver feeds the fittings.</param>
/// <param name="Driver">The driver's rating.</param>
/// <param name="Fittings">
/// The fittings; for constant current in the order in which the loop passes them, from the driver's positive end.
/// </param>
/// <param name="Runs">The cable runs.</param>
public sealed record CircuitModel(
    DriveKind Drive,
    DriverModel Driver,
    ImmutableArray<FittingModel> Fittings,
    ImmutableArray<RunModel> Runs)
{
    /// <summary>The name that the driver has as the end of a run and as the place of a reading.</summary>
    public const string DriverNode = "driver";
}

/// <summary>
/// A driver's rating. What is not known stays null; what is known lies between 0.001 and 1,500 V, 1,000,000 W or
/// 10,000 A.
/// </summary>
public sealed record DriverModel
{
    /// <summary>Output current of a constant-current driver, mA; 1 to 100,000.</summary>
    public double? RatedMilliamps { get; init; }

    /// <summary>Output voltage of a constant-voltage driver, V DC; 0.001 to 1,500.</summary>
    public double? RatedVolts { get; init; }

    /// <summary>Least output voltage at which a constant-current driver still regulates, V DC.</summary>
    public double? LeastVolts { get; init; }

    /// <summary>Greatest output voltage at which a constant-current driver still regulates, V DC.</summary>
    public double? MostVolts { get; init; }

    /// <summary>Greatest output power, W.</summary>
    public double? MostWatts { get; init; }

    /// <summary>Greatest output current of a constant-voltage driver, A.</summary>
    public double? MostAmps { get; init; }

    /// <summary>Voltage at the open output, V DC.</summary>
    public double? OpenCircuitVolts { get; init; }

    /// <summary>
    /// Limit of the deviation of the regulated output (current or voltage) from its rating, ± %; 0 to below 100.
    /// </summary>
    /// <remarks>IEC 62384 clause 7.2 lets a control gear deviate by ±10 %; many are stated closer.</remarks>
    public double OutputTolerancePercent { get; init; } = 5;
}

/// <summary>A fitting (luminaire).</summary>
/// <param name="Id">Its id, also the name of the node it stands at; not empty, not "driver", unique.</param>
/// <param name="RatedWatts">Power at the driver's rated output, W; 0.001 to 10,000.</param>
public sealed record FittingModel(string Id, double RatedWatts)
{
    /// <summary>Limit of the deviation of the power from its rating, ± %; 0 to below 100.</summary>
    /// <remarks>The default 10 is the limit for each sample in IEC 62717 clause 7.1 (from memory).</remarks>
    public double TolerancePercent { get; init; } = 10;

    /// <summary>What kind of fitting it is, in the owner's own catalogue; for the wording of an answer only.</summary>
    public string? Type { get; init; }

    /// <summary>
    /// Least voltage at which the fitting works as rated, V DC; below it the fitting goes dark and takes no current.
    /// For constant voltage only.
    /// </summary>
    public double? LeastVolts { get; init; }

    /// <summary>How its current follows its voltage; for constant voltage only.</summary>
    public LoadKind Load { get; init; } = LoadKind.ConstantPower;

    /// <summary>
    /// The current at which its watts are stated, mA, 1 to 100,000; null where that is the driver's rated current. For
    /// constant current only.
    /// </summary>
    public double? StatedMilliamps { get; init; }

    /// <summary>
    /// Whether a diode in it carries the loop's current past it where it is connected the wrong way round; null where
    /// not known. For constant current only.
    /// </summary>
    public bool? HasBypassDiode { get; init; }

    /// <summary>
    /// The cable by which it hangs on its node; null where that is part of a run or too short to count.
    /// </summary>
    public TailModel? Tail { get; init; }
}

/// <summary>The cable tail of a fitting: out and back.</summary>
/// <param name="LengthMetres">Length of the cable, m; 0 to 1,000.</param>
/// <param name="AreaSquareMillimetres">Conductor area, mm²; one of the IEC 60228 areas from 0.5 to 16.</param>
/// <param name="ConductorClass">Conductor class of IEC 60228.</param>
public sealed record TailModel(double LengthMetres, double AreaSquareMillimetres, ConductorClass ConductorClass);

/// <summary>A cable run between two nodes.</summary>
/// <param name="Id">Its id; not empty, unique.</param>
/// <param name="From">The node it starts at: "driver", a fitting id or a box id.</param>
/// <param name="To">The node it ends at.</param>
/// <param name="LengthMetres">Length of the cable, m; 0 to 100,000.</param>
/// <param name="AreaSquareMillimetres">Conductor area, mm²; one of the IEC 60228 areas from 0.5 to 16.</param>
/// <param name="ConductorClass">Conductor class of IEC 60228.</param>
public sealed record RunModel(
    string Id,
    string From,
    string To,
    double LengthMetres,
    double AreaSquareMillimetres,
    ConductorClass ConductorClass)
{
    /// <summary>Limit of the deviation of the recorded length, ± %; 0 to below 100.</summary>
    public double LengthTolerancePercent { get; init; } = 5;

    /// <summary>Where it lies, which sets the conductor temperature that is assumed.</summary>
    public RunSurroundings Surroundings { get; init; } = RunSurroundings.Buried;

    /// <summary>Conductor temperature where it is known better than by the surroundings, °C; −60 to 150.</summary>
    public double? ConductorCelsius { get; init; }

    /// <summary>
    /// How many of its conductors the circuit's current passes: 2 out and back, 1 in a single-core loop.
    /// </summary>
    public int ConductorsInLoop { get; init; } = 2;

    /// <summary>Resistance of its joints together, out and back, Ω; 0 to 1,000.</summary>
    public double JointOhms { get; init; }
}
