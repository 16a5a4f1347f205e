using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.PageParts.Drawings.Plans;

/// <summary>What kind of thing stands on a plan.</summary>
public enum PlanKind
{
    /// <summary>A driver; its id is its circuit's.</summary>
    Driver,

    /// <summary>A box.</summary>
    Box,

    /// <summary>A fitting.</summary>
    Fitting,

    /// <summary>A duct.</summary>
    Duct,

    /// <summary>A cable; it has no way of its own and is told by its ducts.</summary>
    Cable,
}

/// <summary>A thing of a site, with where it is.</summary>
public sealed record PlanThing
{
    /// <summary>What it is.</summary>
    public required PlanKind Kind { get; init; }

    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>The circuit of a driver or fitting.</summary>
    public string? CircuitId { get; init; }

    /// <summary>What people call it, in few characters.</summary>
    public required string Name { get; init; }

    /// <summary>What is known of it, in plain words.</summary>
    public required string Says { get; init; }

    /// <summary>Where it is: one position, or several along the way of a duct; none where nobody recorded it.</summary>
    public IReadOnlyList<(double Longitude, double Latitude)> Positions { get; init; } = [];

    /// <summary>What a duct is for.</summary>
    public DuctService? Service { get; init; }

    /// <summary>The colour of a duct as seen.</summary>
    public DuctColour? Colour { get; init; }

    /// <summary>The verdict on the circuit of a driver or fitting.</summary>
    public CircuitVerdict? Verdict { get; init; }
}
