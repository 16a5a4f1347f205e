using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Calculations.Requests;

/// <summary>Do these readings over months drift, how fast, and when is a limit crossed?</summary>
public sealed record DriftRequest
{
    /// <summary>What was measured, and so the unit of every value; not <c>fitting-lit</c>.</summary>
    public required MeasuredAs Quantity { get; init; }

    /// <summary>The readings of one place of one circuit, in any order, 1 to 500; the same one sent twice counts once.</summary>
    [List(1, CalculationLimits.MostDriftReadings)]
    public required DriftReadingInput[] Readings { get; init; }

    /// <summary>Recorded repairs and other work that may have changed what the circuit reads, 0 to 50; none where absent.</summary>
    [List(0, CalculationLimits.MostWorks)]
    public WorkInput[]? Works { get; init; }

    /// <summary>The least reading that is still well, in the unit of the quantity, −1,000,000 to 1,000,000; none where absent.</summary>
    [Quantity("V, mA, ohm or Mohm", -1_000_000, 1_000_000)]
    public double? LowLimit { get; init; }

    /// <summary>The greatest reading that is still well, in the unit of the quantity, −1,000,000 to 1,000,000; none where absent.</summary>
    [Quantity("V, mA, ohm or Mohm", -1_000_000, 1_000_000)]
    public double? HighLimit { get; init; }

    /// <summary>
    /// How much of itself the reading changes for each kelvin, 1/K, −0.1 to 0.1; where absent −0.001 for volts, 0.00393 for loop
    /// ohms, −0.0003 for milliamps, and insulation halves with every 10 K.
    /// </summary>
    [Quantity("1/K", -0.1, 0.1)]
    public double? SharePerKelvin { get; init; }

    /// <summary>Latitude of the site, degrees, −90 to 90: it says when it is warm; not known where absent.</summary>
    [Quantity("deg", -90, 90)]
    public double? LatitudeDegrees { get; init; }

    /// <summary>How to look; the stated defaults where absent.</summary>
    public DriftOptionsInput? Options { get; init; }

    /// <summary>Whether the answer has the points of the control charts too; not where absent.</summary>
    public bool? Chart { get; init; }
}

/// <summary>One reading of a series.</summary>
public sealed record DriftReadingInput
{
    /// <summary>When it was taken (RFC 3339).</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>The number on the meter, in the unit of the quantity, −1,000,000 to 1,000,000.</summary>
    [Quantity("V, mA, ohm or Mohm", -1_000_000, 1_000_000)]
    public required double Value { get; init; }

    /// <summary>
    /// What the circuit should have read by the design of that time, in the unit of the quantity, −1,000,000 to 1,000,000; not
    /// known where absent. Where it is known for some readings only, the others are left out.
    /// </summary>
    [Quantity("V, mA, ohm or Mohm", -1_000_000, 1_000_000)]
    public double? Expected { get; init; }

    /// <summary>Standard uncertainty of what was expected, in the unit of the quantity, 0 to 1,000,000; not known where absent.</summary>
    [Quantity("V, mA, ohm or Mohm", 0, 1_000_000)]
    public double? ExpectedStandardUncertainty { get; init; }

    /// <summary>The design behind what was expected, by any name; the same throughout where absent.</summary>
    [Text(80)]
    public string? DesignId { get; init; }

    /// <summary>The meter, by any name; readings without one count as of one meter.</summary>
    [Text(80)]
    public string? MeterId { get; init; }

    /// <summary>Accuracy of the meter on the range used; that of a usual handheld one where absent.</summary>
    public MeterAccuracy? Meter { get; init; }

    /// <summary>Temperature of the conductor (loop) or about the fittings (volts) as recorded, °C, −60 to 150.</summary>
    [Quantity("degC", -60, 150)]
    public double? Celsius { get; init; }
}

/// <summary>Recorded work that may have changed what a circuit reads.</summary>
public sealed record WorkInput
{
    /// <summary>When it was done (RFC 3339).</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>What was done, in a few words.</summary>
    [Text(200)]
    public string? What { get; init; }
}

/// <summary>How drift is looked for. The defaults are common practice without a source unless one is named.</summary>
public sealed record DriftOptionsInput
{
    /// <summary>Confidence of every interval, %, 50 to 99.9; 95 where absent.</summary>
    [Quantity("%", 50, 99.9)]
    public double? ConfidencePercent { get; init; }

    /// <summary>How often a sound series may be said to change at one look, %, 0.01 to 20; 1 where absent.</summary>
    [Quantity("%", 0.01, 20)]
    public double? FalseAlarmPercent { get; init; }

    /// <summary>Number of visits from which anything is said, 5 to 100; 6 where absent.</summary>
    [Quantity("1", 5, 100)]
    public int? LeastVisits { get; init; }

    /// <summary>Shortest span from first to last reading from which anything is said, d, 1 to 3,650; 90 where absent.</summary>
    [Quantity("d", 1, 3650)]
    public double? LeastSpanDays { get; init; }

    /// <summary>Readings up to this long after the first of a visit belong to it, d, 0 to 30; 3 where absent.</summary>
    [Quantity("d", 0, 30)]
    public double? VisitDays { get; init; }

    /// <summary>How long before a limit may be crossed a visit must be planned, d, 0 to 3,650; 60 where absent.</summary>
    [Quantity("d", 0, 3650)]
    public double? LeadDays { get; init; }

    /// <summary>A slow change that is likely to cross a limit within so long asks for a visit, d, 0 to 3,650; 365 where absent.</summary>
    [Quantity("d", 0, 3650)]
    public double? HorizonDays { get; init; }

    /// <summary>
    /// A step smaller than this share of the way to the limit it goes towards is told but asks for no visit, %, 0 to 100; 20 where
    /// absent.
    /// </summary>
    [Quantity("%", 0, 100)]
    public double? MaterialPercent { get; init; }

    /// <summary>
    /// Half the yearly swing of the temperature about the fittings that is allowed for where none is recorded, K, 0 to 40; 8 where
    /// absent.
    /// </summary>
    [Quantity("K", 0, 40)]
    public double? SeasonKelvin { get; init; }

    /// <summary>Standard deviation of a day's temperature about the season's, K, 0 to 20; 2.5 where absent.</summary>
    [Quantity("K", 0, 20)]
    public double? WeatherKelvin { get; init; }

    /// <summary>
    /// Temperature that readings with a recorded one are brought to, °C, −60 to 150; where absent 20, or 15 for loop resistance.
    /// </summary>
    [Quantity("degC", -60, 150)]
    public double? ReferenceCelsius { get; init; }

    /// <summary>Allowance of the CUSUM chart, standard deviations, no unit, 0 to 3; 0.5 where absent.</summary>
    [Quantity("1", 0, 3)]
    public double? CusumAllowance { get; init; }

    /// <summary>
    /// Decision interval of the CUSUM chart, standard deviations, no unit, 0.5 to 20; 5 where absent (Montgomery, Introduction to
    /// Statistical Quality Control, section 9.1).
    /// </summary>
    [Quantity("1", 0.5, 20)]
    public double? CusumDecision { get; init; }

    /// <summary>Weight of the newest point in the EWMA chart, no unit, 0.01 to 1; 0.2 where absent.</summary>
    [Quantity("1", 0.01, 1)]
    public double? EwmaWeight { get; init; }

    /// <summary>Width of the EWMA chart's limits, standard deviations, no unit, 0.5 to 10; 2.962 where absent.</summary>
    [Quantity("1", 0.5, 10)]
    public double? EwmaWidth { get; init; }
}
