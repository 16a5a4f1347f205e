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
    public required CablesInput[] Cables { get; init; }

    /// <summary>Cables of which each is asked by itself whether it goes in besides, 0 to 100; none where absent.</summary>
    [List(0, CalculationLimits.MostCableKinds)]
    public OneCableInput[]? More { get; init; }

    /// <summary>By which published rule it counts as full; <c>space-factor</c> where absent.</summary>
    public FillRule? Rule { get; init; }

    /// <summary>Greatest fill by cross-section, %, 1 to 100, in place of a published rule; by the rule where absent.</summary>
    [Quantity("%", 1, 100)]
    public double? PermittedPercent { get; init; }
}

/// <summary>A cable, or several alike.</summary>
public sealed record CablesInput
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

/// <summary>One cable.</summary>
public sealed record OneCableInput
{
    /// <summary>What people call it.</summary>
    [Text(80)]
    public string? Name { get; init; }

    /// <summary>Outside diameter, mm, 0.1 to 2,000.</summary>
    [Quantity("mm", 0.1, 2000)]
    public required double OutsideDiameterMillimetres { get; init; }
}

/// <summary>What force pulls this cable in, and from which end?</summary>
public sealed record DuctPullRequest
{
    /// <summary>The stretches of the route as recorded, 1 to 1,000: each a straight that may end in a bend.</summary>
    [List(1, CalculationLimits.MostStretches)]
    public required StretchInput[] Route { get; init; }

    /// <summary>The cables pulled together.</summary>
    public required PulledInput Cable { get; init; }

    /// <summary>Coefficient of friction, no unit, 0.01 to 2; 0.5 where absent (dry duct).</summary>
    [Quantity("1", 0.01, 2)]
    public double? Friction { get; init; }

    /// <summary>Force that holds the cable back where it is fed in, N, 0 to 100,000; 0 where absent.</summary>
    [Quantity("N", 0, 100_000)]
    public double? StartNewtons { get; init; }

    /// <summary>
    /// Greatest force for each metre of bend radius, N/m, 1 to 1,000,000; 4,378 where absent (300 lbf per foot, the strictest
    /// figure found).
    /// </summary>
    [Quantity("N/m", 1, 1_000_000)]
    public double? MostSidewallNewtonsPerMetre { get; init; }
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

/// <summary>The cables that are pulled together.</summary>
public sealed record PulledInput
{
    /// <summary>Their mass, kg/m, 0.001 to 100.</summary>
    [Quantity("kg/m", 0.001, 100)]
    public required double KilogramsPerMetre { get; init; }

    /// <summary>Sum of the areas of their conductors, without screen and armour, mm², 0.1 to 10,000.</summary>
    [Quantity("mm2", 0.1, 10_000)]
    public required double CopperSquareMillimetres { get; init; }

    /// <summary>The rule for the conductors; <c>fifty-newtons</c> where absent.</summary>
    public PermittedPull? Rule { get; init; }

    /// <summary>How the rope takes hold; <c>eye</c> where absent.</summary>
    public RopeGrip? Grip { get; init; }

    /// <summary>Armour, which counts where a basket holds the cable; <c>none</c> where absent.</summary>
    public CableArmour? Armour { get; init; }

    /// <summary>Outside diameter over the armour, mm, 0.1 to 2,000; needed for an armoured cable in a basket.</summary>
    [Quantity("mm", 0.1, 2000)]
    public double? OutsideDiameterMillimetres { get; init; }
}
