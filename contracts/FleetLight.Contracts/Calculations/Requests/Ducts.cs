using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Calculations.Requests;

/// <summary>How full is this duct, and which cable goes in besides?</summary>
public sealed record DuctFillRequest
{
    /// <summary>Inside diameter of the duct, mm, 1 to 2,000.</summary>
    [Quantity("mm", 1, 2000)]
    public required double BoreMillimetres { get; init; }

    /// <summary>The cables in it, 0 to 100 kinds.</summary>
    [List(0, CalculationLimits.MostCableKinds)]
    public required CableInput[] Cables { get; init; }

    /// <summary>Cables of which each is asked by itself whether it would go in besides, 0 to 100; none where absent.</summary>
    [List(0, CalculationLimits.MostCableKinds)]
    public CableInput[]? More { get; init; }

    /// <summary>Greatest fill by cross-section, %, 1 to 100; 45 where absent (space factor of the IET On-Site Guide).</summary>
    [Quantity("%", 1, 100)]
    public double? PermittedPercent { get; init; }
}

/// <summary>A cable, or several alike.</summary>
public sealed record CableInput
{
    /// <summary>What people call it.</summary>
    [Text(80)]
    public string? Name { get; init; }

    /// <summary>Outside diameter, mm, 0.1 to 2,000.</summary>
    [Quantity("mm", 0.1, 2000)]
    public required double OutsideDiameterMillimetres { get; init; }

    /// <summary>Number of such cables, 1 to 1,000; 1 where absent. A duct takes 1,000 cables in all.</summary>
    [Quantity("1", 1, 1000)]
    public int? Count { get; init; }
}

/// <summary>What force pulls this cable in?</summary>
public sealed record DuctPullRequest
{
    /// <summary>
    /// The stretches of the route in the order in which the cable's head passes them, 1 to 1,000: each a straight that may end
    /// in a bend.
    /// </summary>
    [List(1, CalculationLimits.MostStretches)]
    public required StretchInput[] Route { get; init; }

    /// <summary>Mass of all cables pulled together, kg/m, 0.001 to 100.</summary>
    [Quantity("kg/m", 0.001, 100)]
    public required double KilogramsPerMetre { get; init; }

    /// <summary>Sum of the areas of all conductors pulled, mm², 0.1 to 10,000. It sets the permitted pull, 50 N/mm².</summary>
    [Quantity("mm2", 0.1, 10_000)]
    public required double CopperSquareMillimetres { get; init; }

    /// <summary>Coefficient of friction, no unit, 0.01 to 2; 0.5 where absent (dry duct).</summary>
    [Quantity("1", 0.01, 2)]
    public double? Friction { get; init; }

    /// <summary>Force that holds the cable back where it is fed in, N, 0 to 100,000; 0 where absent.</summary>
    [Quantity("N", 0, 100_000)]
    public double? StartNewtons { get; init; }
}

/// <summary>A straight of duct that may end in a bend.</summary>
public sealed record StretchInput
{
    /// <summary>Length of the straight, m, 0 to 10,000.</summary>
    [Quantity("m", 0, 10_000)]
    public required double LengthMetres { get; init; }

    /// <summary>Angle of the bend at its end, degrees, 0 to 360; no bend where absent.</summary>
    [Quantity("deg", 0, 360)]
    public double? BendDegrees { get; init; }

    /// <summary>Radius of the bend, m, 0.01 to 1,000; needed where there is a bend.</summary>
    [Quantity("m", 0.01, 1000)]
    public double? BendRadiusMetres { get; init; }
}
