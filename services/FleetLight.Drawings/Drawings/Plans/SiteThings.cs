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

    /// <summary>A reference point, from which tapes run.</summary>
    ReferencePoint,
}

/// <summary>What is not known of a position: the ellipse that holds the true place with 95 %.</summary>
/// <param name="SemiMajorMetres">Half of the longer axis, m.</param>
/// <param name="SemiMinorMetres">Half of the shorter axis, m.</param>
/// <param name="BearingDegrees">Bearing of the longer axis, degrees from north clockwise.</param>
public sealed record PlanEllipse(double SemiMajorMetres, double SemiMinorMetres, double BearingDegrees)
{
    // Within the sign itself nothing can be seen; beyond the screen it says nothing of where.
    private const double LeastPixels = 10;
    private const double MostPixels = 2000;

    /// <summary>Whether it is worth drawing at a scale, CSS pixels for one metre.</summary>
    public bool ShowsAt(double pixelsPerMetre) => SemiMajorMetres * pixelsPerMetre is > LeastPixels and < MostPixels;
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

    /// <summary>What is not known of its position; none where nobody said how well it is known.</summary>
    public PlanEllipse? Ellipse { get; init; }

    /// <summary>What a duct is for.</summary>
    public DuctService? Service { get; init; }

    /// <summary>The colour of a duct as seen.</summary>
    public DuctColour? Colour { get; init; }

    /// <summary>The verdict on the circuit of a driver or fitting.</summary>
    public CircuitVerdict? Verdict { get; init; }
}
