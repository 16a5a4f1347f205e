using FleetLight.Contracts.Calculations;

namespace FleetLight.Contracts.Views;

/// <summary>What readings of one place show over months.</summary>
public enum ReadingTrend
{
    /// <summary>Cannot be told yet; the text says why.</summary>
    CannotTell,

    /// <summary>No change beyond season, meters and scatter.</summary>
    Steady,

    /// <summary>Something moves, but it is too early to say what: read again.</summary>
    Watch,

    /// <summary>It changes slowly.</summary>
    SlowChange,

    /// <summary>It changed suddenly, and no recorded work explains it.</summary>
    UnexplainedStep,
}

/// <summary>A rate of change with its 95 % interval.</summary>
public sealed record RateView
{
    /// <summary>Best estimate, unit of the quantity (V, mA or Ω) a year; of insulation the factor by which it changes a year.</summary>
    public required double PerYear { get; init; }

    /// <summary>Lower end of the interval, same unit.</summary>
    public required double Low { get; init; }

    /// <summary>Upper end of the interval, same unit.</summary>
    public required double High { get; init; }
}

/// <summary>When a limit is crossed if a slow change goes on as it does. Dates are whole days, UTC.</summary>
public sealed record CrossingView
{
    /// <summary>
    /// The limit, V, mA, Ω or MΩ: where a reading would be outside what it should be, the driver's greatest voltage, or the least
    /// insulation resistance.
    /// </summary>
    public required double Limit { get; init; }

    /// <summary>By the faster end of the rate's interval; none for never.</summary>
    public DateTimeOffset? Earliest { get; init; }

    /// <summary>By the best estimate; none for never.</summary>
    public DateTimeOffset? Likely { get; init; }

    /// <summary>By the slower end; none for never.</summary>
    public DateTimeOffset? Latest { get; init; }
}

/// <summary>What the readings of one quantity at one place show over months. Advice, never a certificate.</summary>
public sealed record DriftView
{
    /// <summary>Where.</summary>
    public required ReadingPlaceKind Place { get; init; }

    /// <summary>The box or fitting.</summary>
    public string? PlaceId { get; init; }

    /// <summary>What; <c>megohms-insulation</c> for tests of insulation.</summary>
    public required MeasuredAs Quantity { get; init; }

    /// <summary>Of tests of insulation, whether they were made on the mains side; none for readings.</summary>
    public bool? MainsSide { get; init; }

    /// <summary>What they show.</summary>
    public required ReadingTrend Trend { get; init; }

    /// <summary>The same in plain words, with what follows from it.</summary>
    public required string Says { get; init; }

    /// <summary>Number of visits behind it.</summary>
    public required int Visits { get; init; }

    /// <summary>How fast it changes; none where that cannot be told.</summary>
    public RateView? Rate { get; init; }

    /// <summary>Since when it changes slowly, where it did not from the start.</summary>
    public DateTimeOffset? ChangesSince { get; init; }

    /// <summary>When the limit that it goes towards is crossed; none where it does not change slowly.</summary>
    public CrossingView? Crossing { get; init; }

    /// <summary>By when to be there: a lead time before the earliest crossing.</summary>
    public DateTimeOffset? VisitBy { get; init; }

    /// <summary>Whether a visit should be planned now.</summary>
    public required bool AsksForVisit { get; init; }
}
