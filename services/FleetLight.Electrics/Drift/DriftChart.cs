using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>What a page draws: the points with their line and limits, and the two control charts beside them.</summary>
public sealed record DriftChart
{
    /// <summary>The points, oldest first.</summary>
    public required ImmutableArray<ChartPoint> Points { get; init; }

    /// <summary>The lower limit of readings, in the unit of the quantity; null where there is none.</summary>
    public double? LowLimit { get; init; }

    /// <summary>The upper limit of readings, in the unit of the quantity; null where there is none.</summary>
    public double? HighLimit { get; init; }

    /// <summary>Sum beyond which the CUSUM chart signals, standard deviations.</summary>
    public required double CusumDecision { get; init; }

    /// <summary>The first visit of the newest stretch at which a chart signalled; null where none did.</summary>
    public DateTimeOffset? FirstSignal { get; init; }
}

/// <summary>One point of the charts: what one meter showed on one visit.</summary>
public sealed record ChartPoint
{
    /// <summary>When.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>The reading, in the unit of the quantity.</summary>
    public required double Value { get; init; }

    /// <summary>
    /// The same without what season and meter explain, as the newest design and work would have it, in the same unit.
    /// </summary>
    public required double Adjusted { get; init; }

    /// <summary>The centre line at that time, in the same unit.</summary>
    public required double Centre { get; init; }

    /// <summary>Three standard deviations below the centre line.</summary>
    public required double Low { get; init; }

    /// <summary>Three standard deviations above the centre line.</summary>
    public required double High { get; init; }

    /// <summary>Whether it was left out because it stands alone.</summary>
    public required bool IsOutlier { get; init; }

    /// <summary>The CUSUM chart, standard deviations; null outside the newest stretch.</summary>
    public CusumPoint? Cusum { get; init; }

    /// <summary>The EWMA chart, standard deviations; null outside the newest stretch.</summary>
    public EwmaPoint? Ewma { get; init; }
}
