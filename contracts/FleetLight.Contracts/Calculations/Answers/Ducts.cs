namespace FleetLight.Contracts.Calculations.Answers;

/// <summary>How full a duct is. Advice, never a certificate.</summary>
public sealed record DuctFillAnswer : CalculationAnswer
{
    /// <summary>Cross-section of the cables, % of the bore's.</summary>
    public required double FillPercent { get; init; }

    /// <summary>Greatest fill that is taken as easy to pull, %.</summary>
    public required double PermittedPercent { get; init; }

    /// <summary>Whether the fill is at or below that and every cable is thinner than the bore.</summary>
    public required bool Fits { get; init; }

    /// <summary>
    /// Whether three cables of one size may wedge side by side: bore divided by cable diameter between 2.8 and 3.2
    /// (informational note to NFPA 70 chapter 9 table 1).
    /// </summary>
    public required bool MayJam { get; init; }

    /// <summary>Outside diameter of the thickest further cable that would fit, in mm; 0 for none.</summary>
    public required double ThickestMoreMillimetres { get; init; }

    /// <summary>Each cable that was asked about, in the order of the request.</summary>
    public required IReadOnlyList<MoreCableAnswer> More { get; init; }

    /// <summary>Where the default greatest fill is published.</summary>
    public required string Source { get; init; }
}

/// <summary>Whether one more cable, or several alike, would go in.</summary>
public sealed record MoreCableAnswer
{
    /// <summary>What people call it.</summary>
    public string? Name { get; init; }

    /// <summary>Outside diameter, in mm.</summary>
    public required double OutsideDiameterMillimetres { get; init; }

    /// <summary>Number of them.</summary>
    public required int Count { get; init; }

    /// <summary>Whether the duct would keep the greatest fill with it.</summary>
    public required bool Fits { get; init; }

    /// <summary>Cross-section of all cables then, % of the bore's.</summary>
    public required double FillPercent { get; init; }

    /// <summary>Whether three cables of one size may then wedge side by side.</summary>
    public required bool MayJam { get; init; }
}

/// <summary>The force to pull a cable through a duct. Advice, never a certificate.</summary>
public sealed record DuctPullAnswer : CalculationAnswer
{
    /// <summary>Force at the pulling end, in N.</summary>
    public required double ForceNewtons { get; init; }

    /// <summary>Greatest permitted force, in N: 50 N for each mm² of copper (European cable construction standards).</summary>
    public required double PermittedNewtons { get; init; }

    /// <summary>Force, % of the permitted one; above 100 the cable is pulled harder than is permitted.</summary>
    public required double PercentOfPermitted { get; init; }

    /// <summary>Greatest force for each metre of bend radius, in N/m; 0 without bends.</summary>
    public required double SidewallNewtonsPerMetre { get; init; }

    /// <summary>Sum of all bends, in degrees; above 360 between two pulling points is unusual.</summary>
    public required double BendsDegrees { get; init; }
}
