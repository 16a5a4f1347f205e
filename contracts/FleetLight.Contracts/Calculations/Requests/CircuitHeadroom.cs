using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Calculations.Requests;

/// <summary>May these fittings be added to a recorded circuit, here?</summary>
public sealed record CircuitHeadroomRequest
{
    /// <summary>The fittings to add, 1 to 200, in the order in which the cable reaches them; their ids are new to the circuit.</summary>
    [List(1, CalculationLimits.MostAdded)]
    public required FittingInput[] Add { get; init; }

    /// <summary>Where they are to hang.</summary>
    public required RecordedWhereInput Where { get; init; }

    /// <summary>
    /// What the answer is held against; the stated defaults where absent, and of wattages the catalogue of the organisation
    /// where it set one.
    /// </summary>
    public HeadroomLimitsInput? Limits { get; init; }
}

/// <summary>
/// Where fittings are to be added to a recorded circuit: at a place, reached from it over spare cores of cables that lie
/// there, on a new run, or over spare cores and then a new run.
/// </summary>
public sealed record RecordedWhereInput
{
    /// <summary>The place it begins at: <c>driver</c>, a fitting or a box of the circuit.</summary>
    [ThingId]
    public required string Place { get; init; }

    /// <summary>
    /// The runs whose cables' spare cores lead on from the place, in order, each beginning where the one before ends; none where
    /// absent.
    /// </summary>
    [List(0, 100)]
    public SpareOfRunInput[]? Spare { get; init; }

    /// <summary>The new run; none where the fittings hang where the place or the spare cores end.</summary>
    public NewRunInput? NewRun { get; init; }
}

/// <summary>Spare cores in the recorded cable of a run.</summary>
public sealed record SpareOfRunInput
{
    /// <summary>The run of the circuit's design. Its cable is the one that the design names for it.</summary>
    [ThingId]
    public required string RunId { get; init; }

    /// <summary>The two cores, out and back, as the cable's record names them; any two that are spare where absent.</summary>
    [Text(32)]
    [List(2, 2)]
    public string[]? Cores { get; init; }
}
