namespace FleetLight.Electrics;

/// <summary>A place on the circuit as built where a meter can be put.</summary>
/// <param name="Id">"driver", a fitting id or a box id.</param>
/// <param name="Access">What it takes to get at the conductors there.</param>
public sealed record MeasuringPlace(string Id, PlaceAccess Access)
{
    /// <summary>
    /// Minutes that it takes to get at the conductors and to close up again, where better known than by the access;
    /// 0 to 10,000.
    /// </summary>
    public double? EffortMinutes { get; init; }

    /// <summary>
    /// Whether it stands open from an earlier measurement, so that getting there costs the walk only.
    /// </summary>
    public bool IsOpen { get; init; }
}

/// <summary>What it takes to get at the conductors of a place.</summary>
public enum PlaceAccess
{
    /// <summary>They are at hand, as at a driver.</summary>
    AtHand,

    /// <summary>A box whose lid lies at the surface.</summary>
    OpenToReach,

    /// <summary>A fitting that has to be loosened or opened.</summary>
    Fitting,

    /// <summary>A box in the ground that has to be dug out.</summary>
    NeedsDigging,
}
