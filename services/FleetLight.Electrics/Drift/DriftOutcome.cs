using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace FleetLight.Electrics;

/// <summary>What a series of readings shows over time, or why that cannot be said: never an exception.</summary>
[JsonDerivedType(typeof(DriftFinding), "finding")]
[JsonDerivedType(typeof(CannotTellDrift), "cannot-tell")]
public abstract record DriftOutcome
{
    private protected DriftOutcome()
    {
    }
}

/// <summary>Why nothing is said of drift.</summary>
public enum DriftRefusal
{
    /// <summary>No series was given.</summary>
    NothingGiven,

    /// <summary>Too few visits, by <see cref="DriftOptions.LeastVisits"/>.</summary>
    TooFewVisits,

    /// <summary>Too short a time from first to last, by <see cref="DriftOptions.LeastSpanDays"/>.</summary>
    SpanTooShort,

    /// <summary>Enough readings, but too few of them since recorded work changed what the circuit reads.</summary>
    TooFewSinceWork,
}

/// <summary>Nothing can be said of drift yet.</summary>
/// <param name="Reason">Why, for programs.</param>
/// <param name="Text">Why, in plain words.</param>
/// <param name="Field">The part of the input that it is about.</param>
public sealed record CannotTellDrift(DriftRefusal Reason, string Text, string Field) : DriftOutcome
{
    /// <summary>Visits that count.</summary>
    public int Visits { get; init; }

    /// <summary>Visits that are asked for.</summary>
    public int VisitsNeeded { get; init; }
}

/// <summary>What a series shows.</summary>
public enum DriftKind
{
    /// <summary>No change beyond what season, meters and scatter explain.</summary>
    Steady,

    /// <summary>
    /// Something moves, but too little is known to say what: the newest visit stands apart, or a chart signals while no
    /// test bears it out. Read again.
    /// </summary>
    Watch,

    /// <summary>It changes slowly, at a rate that is borne out.</summary>
    SlowChange,

    /// <summary>It changed suddenly, no recorded work explains it, and it has not come back.</summary>
    UnexplainedStep,
}

/// <summary>What a series of readings shows over time. Advice, never a certificate.</summary>
public sealed record DriftFinding : DriftOutcome
{
    /// <summary>What it shows.</summary>
    public required DriftKind Kind { get; init; }

    /// <summary>What, since when, how fast and what follows, in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>What was assumed on the way, in plain words.</summary>
    public required ImmutableArray<string> Assumes { get; init; }

    /// <summary>The rate of change.</summary>
    public required DriftRate Rate { get; init; }

    /// <summary>
    /// The Mann–Kendall test of the points behind the rate, after season and meters.
    /// </summary>
    public required MannKendall Trend { get; init; }

    /// <summary>Since when it changes at that rate; null where it is not a slow change, or was so from the start.</summary>
    public DateTimeOffset? ChangesSince { get; init; }

    /// <summary>Sudden changes, oldest first, explained by recorded work or not.</summary>
    public required ImmutableArray<DriftStep> Steps { get; init; }

    /// <summary>Limits that it goes towards or may, and when it comes there.</summary>
    public required ImmutableArray<LimitCrossing> Crossings { get; init; }

    /// <summary>
    /// Whether a visit should be planned now: a slow change may cross a limit within the lead time (reckoned to the next
    /// visit to be expected) or is likely to within the horizon, or a step without explanation is material.
    /// </summary>
    public required bool AsksForVisit { get; init; }

    /// <summary>By when to be there: the lead time before the earliest crossing; null where no crossing is in sight.</summary>
    public DateTimeOffset? VisitBy { get; init; }

    /// <summary>Standard deviation of one point, in the unit of the quantity (insulation: of its common logarithm).</summary>
    public required double PointDeviation { get; init; }

    /// <summary>Visits that count.</summary>
    public required int Visits { get; init; }

    /// <summary>Readings that were sent more than once.</summary>
    public required int Repeated { get; init; }

    /// <summary>Readings that could not be used: no possible number, bad meter, nothing expected where others have it.</summary>
    public required int Unusable { get; init; }

    /// <summary>Meters, where there are several, with what each reads more than the others.</summary>
    public required ImmutableArray<MeterOffset> Meters { get; init; }

    /// <summary>The points and charts.</summary>
    public required DriftChart Chart { get; init; }
}

/// <summary>A rate of change.</summary>
/// <param name="PerYear">
/// Best estimate a year: in the unit of the quantity; for insulation the factor by which it changes.
/// </param>
/// <param name="Low">Lower end of its interval, likewise.</param>
/// <param name="High">Upper end of its interval, likewise.</param>
/// <param name="Confidence">Confidence of the interval.</param>
public sealed record DriftRate(double PerYear, double Low, double High, double Confidence);

/// <summary>A sudden change.</summary>
/// <param name="After">The last visit before it.</param>
/// <param name="Before">The first visit after it.</param>
/// <param name="Size">How much, in the unit of the quantity; for insulation the factor.</param>
/// <param name="IsExplained">Whether recorded work lies between.</param>
/// <param name="Work">What was done; empty where it is not explained or not said.</param>
public sealed record DriftStep(DateTimeOffset After, DateTimeOffset Before, double Size, bool IsExplained, string Work);

/// <summary>When a limit is crossed if the change goes on as it does.</summary>
/// <param name="Limit">The limit, in the unit of the quantity.</param>
/// <param name="IsUpper">Whether it is the upper one.</param>
/// <param name="Earliest">By the faster end of the interval; null for never (beyond 50 years).</param>
/// <param name="Likely">By the best estimate; null for never.</param>
/// <param name="Latest">By the slower end; null for never.</param>
public sealed record LimitCrossing(
    double Limit, bool IsUpper, DateTimeOffset? Earliest, DateTimeOffset? Likely, DateTimeOffset? Latest);

/// <summary>What a meter reads more than the true value, as far as the readings show it.</summary>
/// <param name="MeterId">The meter as named; empty where it was not.</param>
/// <param name="Percent">How much more, % of the reading.</param>
public sealed record MeterOffset(string MeterId, double Percent);
