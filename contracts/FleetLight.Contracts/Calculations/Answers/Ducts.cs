namespace FleetLight.Contracts.Calculations.Answers;

/// <summary>How full a duct is. Advice, never a certificate.</summary>
public sealed record DuctFillAnswer : CalculationAnswer
{
    /// <summary>Cross-section of the cables, % of the bore's.</summary>
    public required double FillPercent { get; init; }

    /// <summary>Greatest fill that is taken as easy to pull, %.</summary>
    public required double PermittedPercent { get; init; }

    /// <summary>Where the greatest fill is published, or that it was stated.</summary>
    public required string Source { get; init; }

    /// <summary>Whether the fill is at or below that and every cable is thinner than the bore.</summary>
    public required bool Fits { get; init; }

    /// <summary>
    /// Whether three cables of one size may wedge side by side: bore divided by cable diameter between 2.8 and 3.2
    /// (informational note to NFPA 70 chapter 9 table 1).
    /// </summary>
    public required bool MayJam { get; init; }

    /// <summary>Bore divided by the diameter of the thickest, no unit, for three cables of one size.</summary>
    public double? JamRatio { get; init; }

    /// <summary>Outside diameter of the thickest further cable that would fit, in mm; 0 for none.</summary>
    public required double ThickestMoreMillimetres { get; init; }

    /// <summary>Each cable that was asked about, in the order of the request.</summary>
    public required IReadOnlyList<OneMoreAnswer> More { get; init; }
}

/// <summary>Whether one more cable goes in.</summary>
public sealed record OneMoreAnswer
{
    /// <summary>What people call it.</summary>
    public string? Name { get; init; }

    /// <summary>Outside diameter, in mm.</summary>
    public required double OutsideDiameterMillimetres { get; init; }

    /// <summary>Whether it goes in.</summary>
    public required bool GoesIn { get; init; }

    /// <summary>The same in plain words; left out where the greatest fill was stated in place of a published rule.</summary>
    public string? Text { get; init; }

    /// <summary>Cross-section of all cables then, % of the bore's.</summary>
    public required double FillPercent { get; init; }

    /// <summary>Greatest fill then, %.</summary>
    public required double PermittedPercent { get; init; }

    /// <summary>Whether three cables of one size may then wedge side by side.</summary>
    public required bool MayJam { get; init; }
}

/// <summary>The force to pull a cable through a duct, from either end. Advice, never a certificate.</summary>
public sealed record DuctPullAnswer : CalculationAnswer
{
    /// <summary>From which end it takes less force.</summary>
    public required PullingEnd Better { get; init; }

    /// <summary>Whether that pull is within the permitted force, the greatest sidewall force and 360° of bends.</summary>
    public required bool IsWithin { get; init; }

    /// <summary>The same in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>The pull from the end of the route: the cable is fed in at its beginning.</summary>
    public required PullAnswer FromRouteEnd { get; init; }

    /// <summary>The pull from its beginning: the cable is fed in at its end.</summary>
    public required PullAnswer FromRouteBeginning { get; init; }

    /// <summary>Greatest permitted force, in N.</summary>
    public required double PermittedNewtons { get; init; }

    /// <summary>Where that is published.</summary>
    public required string Source { get; init; }

    /// <summary>Greatest force for each metre of bend radius that was held against, in N/m.</summary>
    public required double MostSidewallNewtonsPerMetre { get; init; }

    /// <summary>Sum of all bends, in degrees; above 360 between two pulling points is unusual.</summary>
    public required double BendsDegrees { get; init; }
}

/// <summary>A pull in one direction.</summary>
public sealed record PullAnswer
{
    /// <summary>Force at the pulling end, in N.</summary>
    public required double ForceNewtons { get; init; }

    /// <summary>The same, % of the permitted force.</summary>
    public required double PercentOfPermitted { get; init; }

    /// <summary>Greatest force for each metre of bend radius, in N/m; 0 without bends.</summary>
    public required double SidewallNewtonsPerMetre { get; init; }
}
