namespace FleetLight.Contracts.Calculations.Answers;

/// <summary>Whether readings drift, or why that cannot be said: one of the two is there. Advice, never a certificate.</summary>
public sealed record DriftAnswer : CalculationAnswer
{
    /// <summary>What the readings show.</summary>
    public DriftFindings? Finding { get; init; }

    /// <summary>Why nothing can be said yet.</summary>
    public NoDrift? CannotTell { get; init; }
}

/// <summary>Why nothing can be said of drift yet.</summary>
public sealed record NoDrift
{
    /// <summary>Why, for programs.</summary>
    public required NoDriftReason Reason { get; init; }

    /// <summary>Why, in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>Number of visits that count.</summary>
    public required int Visits { get; init; }

    /// <summary>Number of visits that are asked for.</summary>
    public required int VisitsNeeded { get; init; }
}

/// <summary>What a series of readings shows over time.</summary>
public sealed record DriftFindings
{
    /// <summary>What it shows.</summary>
    public required DriftShows Shows { get; init; }

    /// <summary>What, since when, how fast and what follows, in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>What was assumed on the way, in plain words.</summary>
    public required IReadOnlyList<string> Assumes { get; init; }

    /// <summary>The rate of change (Theil–Sen).</summary>
    public required RateAnswer Rate { get; init; }

    /// <summary>The Mann–Kendall test of the points behind the rate, after season and meters.</summary>
    public required TrendTestAnswer Trend { get; init; }

    /// <summary>Since when it changes at that rate; left out where it is no slow change, or was so from the start.</summary>
    public DateTimeOffset? ChangesSince { get; init; }

    /// <summary>Sudden changes, oldest first, explained by recorded work or not.</summary>
    public required IReadOnlyList<StepAnswer> Steps { get; init; }

    /// <summary>Limits that it goes towards or may, and when it comes there.</summary>
    public required IReadOnlyList<CrossingAnswer> Crossings { get; init; }

    /// <summary>Whether a visit should be planned now.</summary>
    public required bool AsksForVisit { get; init; }

    /// <summary>By when to be there; left out where no crossing is in sight.</summary>
    public DateTimeOffset? VisitBy { get; init; }

    /// <summary>Standard deviation of one point, in the unit of the quantity (insulation: of its common logarithm).</summary>
    public required double PointDeviation { get; init; }

    /// <summary>Number of visits that count.</summary>
    public required int Visits { get; init; }

    /// <summary>Number of readings that were sent more than once.</summary>
    public required int Repeated { get; init; }

    /// <summary>Number of readings that could not be used.</summary>
    public required int Unusable { get; init; }

    /// <summary>Meters, where there are several, with what each reads more than the others.</summary>
    public required IReadOnlyList<MeterOffsetAnswer> Meters { get; init; }

    /// <summary>The points and charts; left out where they were not asked for.</summary>
    public DriftChartAnswer? Chart { get; init; }
}

/// <summary>A rate of change.</summary>
public sealed record RateAnswer
{
    /// <summary>Best estimate a year, in the unit of the quantity; for insulation the factor by which it changes.</summary>
    public required double PerYear { get; init; }

    /// <summary>Lower end of its interval, in the same unit.</summary>
    public required double Low { get; init; }

    /// <summary>Upper end of its interval, in the same unit.</summary>
    public required double High { get; init; }

    /// <summary>Confidence of the interval, %.</summary>
    public required double ConfidencePercent { get; init; }
}

/// <summary>The Mann–Kendall test for a trend.</summary>
public sealed record TrendTestAnswer
{
    /// <summary>Number of pairs in which the later value is greater, less those in which it is smaller.</summary>
    public required int Score { get; init; }

    /// <summary>Variance of the score without a trend, corrected for ties, no unit.</summary>
    public required double Variance { get; init; }

    /// <summary>Probability, %, of a score as far from 0 without a trend.</summary>
    public required double ProbabilityPercent { get; init; }

    /// <summary>Whether the probability follows from counting permutations; otherwise from the normal approximation.</summary>
    public required bool IsExact { get; init; }
}

/// <summary>A sudden change.</summary>
public sealed record StepAnswer
{
    /// <summary>The last visit before it.</summary>
    public required DateTimeOffset After { get; init; }

    /// <summary>The first visit after it.</summary>
    public required DateTimeOffset Before { get; init; }

    /// <summary>How much, in the unit of the quantity; for insulation the factor.</summary>
    public required double Size { get; init; }

    /// <summary>Whether recorded work lies between.</summary>
    public required bool IsExplained { get; init; }

    /// <summary>What was done, where that was said.</summary>
    public string? Work { get; init; }
}

/// <summary>When a limit is crossed if the change goes on as it does, to the minute.</summary>
public sealed record CrossingAnswer
{
    /// <summary>The limit, in the unit of the quantity.</summary>
    public required double Limit { get; init; }

    /// <summary>Whether it is the upper one.</summary>
    public required bool IsUpper { get; init; }

    /// <summary>By the faster end of the interval; left out for never (beyond 50 years).</summary>
    public DateTimeOffset? Earliest { get; init; }

    /// <summary>By the best estimate; left out for never.</summary>
    public DateTimeOffset? Likely { get; init; }

    /// <summary>By the slower end; left out for never.</summary>
    public DateTimeOffset? Latest { get; init; }
}

/// <summary>What a meter reads more than the others, as far as the readings show it.</summary>
public sealed record MeterOffsetAnswer
{
    /// <summary>The meter as named; left out for those without a name.</summary>
    public string? MeterId { get; init; }

    /// <summary>How much more, % of the reading.</summary>
    public required double Percent { get; init; }
}

/// <summary>What a page draws: the points with their line and limits, and the two control charts beside them.</summary>
public sealed record DriftChartAnswer
{
    /// <summary>The points, oldest first.</summary>
    public required IReadOnlyList<ChartPointAnswer> Points { get; init; }

    /// <summary>Sum beyond which the CUSUM chart signals, in standard deviations, no unit.</summary>
    public required double CusumDecision { get; init; }

    /// <summary>The first visit of the newest stretch at which a chart signalled; left out where none did.</summary>
    public DateTimeOffset? FirstSignal { get; init; }
}

/// <summary>One point of the charts: what one meter showed on one visit.</summary>
public sealed record ChartPointAnswer
{
    /// <summary>When.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>The reading, in the unit of the quantity.</summary>
    public required double Value { get; init; }

    /// <summary>
    /// The same without what season and meter explain, as the newest design and work would have it, in the unit of the quantity.
    /// </summary>
    public required double Adjusted { get; init; }

    /// <summary>The centre line at that time, in the unit of the quantity.</summary>
    public required double Centre { get; init; }

    /// <summary>Three standard deviations below the centre line, in the unit of the quantity.</summary>
    public required double Low { get; init; }

    /// <summary>Three standard deviations above the centre line, in the unit of the quantity.</summary>
    public required double High { get; init; }

    /// <summary>Whether it was left out because it stands alone.</summary>
    public required bool IsOutlier { get; init; }

    /// <summary>The CUSUM chart; left out outside the newest stretch.</summary>
    public CusumAnswer? Cusum { get; init; }

    /// <summary>The EWMA chart; left out outside the newest stretch.</summary>
    public EwmaAnswer? Ewma { get; init; }
}

/// <summary>A point of the CUSUM chart, in standard deviations.</summary>
public sealed record CusumAnswer
{
    /// <summary>Sum of what lies above target and allowance, in standard deviations, no unit.</summary>
    public required double High { get; init; }

    /// <summary>Sum of what lies below target and allowance, in standard deviations, no unit.</summary>
    public required double Low { get; init; }

    /// <summary>Whether either is beyond the decision interval.</summary>
    public required bool Signals { get; init; }
}

/// <summary>A point of the EWMA chart, in standard deviations.</summary>
public sealed record EwmaAnswer
{
    /// <summary>The exponentially weighted moving average, in standard deviations, no unit.</summary>
    public required double Value { get; init; }

    /// <summary>Lower limit, in standard deviations, no unit.</summary>
    public required double Low { get; init; }

    /// <summary>Upper limit, in standard deviations, no unit.</summary>
    public required double High { get; init; }

    /// <summary>Whether it is beyond a limit.</summary>
    public required bool Signals { get; init; }
}
