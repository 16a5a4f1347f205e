using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Calculations.Mapping;

/// <summary>Readings over months as the electrics take them, and what they show.</summary>
internal static class DriftMapping
{
    /// <summary>The series.</summary>
    public static DriftSeries Series(DriftRequest request) =>
        new(WireWord.Of<MeasuredAs, MeasuredQuantity>(request.Quantity), [.. request.Readings.Select(Reading)])
        {
            Works = [.. (request.Works ?? []).Select(work => new RecordedWork(work.At, work.What ?? ""))],
            LowLimit = request.LowLimit,
            HighLimit = request.HighLimit,
            SharePerKelvin = request.SharePerKelvin,
            LatitudeDegrees = request.LatitudeDegrees,
        };

    /// <summary>How to look.</summary>
    public static DriftOptions Options(DriftOptionsInput? given)
    {
        var defaults = DriftOptions.Default;
        return given is null
            ? defaults
            : new DriftOptions
            {
                Confidence = given.ConfidencePercent / 100 ?? defaults.Confidence,
                FalseAlarmRate = given.FalseAlarmPercent / 100 ?? defaults.FalseAlarmRate,
                LeastVisits = given.LeastVisits ?? defaults.LeastVisits,
                LeastSpanDays = given.LeastSpanDays ?? defaults.LeastSpanDays,
                VisitDays = given.VisitDays ?? defaults.VisitDays,
                LeadDays = given.LeadDays ?? defaults.LeadDays,
                HorizonDays = given.HorizonDays ?? defaults.HorizonDays,
                MaterialShare = given.MaterialPercent / 100 ?? defaults.MaterialShare,
                SeasonKelvin = given.SeasonKelvin ?? defaults.SeasonKelvin,
                WeatherKelvin = given.WeatherKelvin ?? defaults.WeatherKelvin,
                ReferenceCelsius = given.ReferenceCelsius,
                CusumAllowance = given.CusumAllowance ?? defaults.CusumAllowance,
                CusumDecision = given.CusumDecision ?? defaults.CusumDecision,
                EwmaWeight = given.EwmaWeight ?? defaults.EwmaWeight,
                EwmaWidth = given.EwmaWidth ?? defaults.EwmaWidth,
            };
    }

    /// <summary>Why nothing can be said.</summary>
    public static NoDrift CannotTell(CannotTellDrift cannot) => new()
    {
        Reason = WireWord.Of<DriftRefusal, NoDriftReason>(cannot.Reason),
        Text = cannot.Text,
        Visits = cannot.Visits,
        VisitsNeeded = cannot.VisitsNeeded,
    };

    /// <summary>What was found.</summary>
    /// <param name="found">What the electrics found.</param>
    /// <param name="withChart">Whether the points of the charts are shown.</param>
    public static DriftFindings Findings(DriftFinding found, bool withChart) => new()
    {
        Shows = WireWord.Of<DriftKind, DriftShows>(found.Kind),
        Text = found.Text,
        Assumes = [.. found.Assumes],
        Rate = new RateAnswer
        {
            PerYear = found.Rate.PerYear,
            Low = found.Rate.Low,
            High = found.Rate.High,
            ConfidencePercent = 100 * found.Rate.Confidence,
        },
        Trend = new TrendTestAnswer
        {
            Score = found.Trend.Score,
            Variance = found.Trend.Variance,
            ProbabilityPercent = 100 * found.Trend.Probability,
            IsExact = found.Trend.IsExact,
        },
        ChangesSince = found.ChangesSince,
        Steps =
        [
            .. found.Steps.Select(step => new StepAnswer
            {
                After = step.After,
                Before = step.Before,
                Size = step.Size,
                IsExplained = step.IsExplained,
                Work = step.Work.Length > 0 ? step.Work : null,
            }),
        ],
        Crossings =
        [
            .. found.Crossings.Select(crossing => new CrossingAnswer
            {
                Limit = crossing.Limit,
                IsUpper = crossing.IsUpper,
                Earliest = ToTheMinute(crossing.Earliest),
                Likely = ToTheMinute(crossing.Likely),
                Latest = ToTheMinute(crossing.Latest),
            }),
        ],
        AsksForVisit = found.AsksForVisit,
        VisitBy = ToTheMinute(found.VisitBy),
        PointDeviation = found.PointDeviation,
        Visits = found.Visits,
        Repeated = found.Repeated,
        Unusable = found.Unusable,
        Meters =
        [
            .. found.Meters.Select(meter => new MeterOffsetAnswer
            {
                MeterId = meter.MeterId.Length > 0 ? meter.MeterId : null,
                Percent = meter.Percent,
            }),
        ],
        Chart = withChart ? Chart(found.Chart) : null,
    };

    // What is foretold is not known to the second, and rounding differs from machine to machine.
    private static DateTimeOffset? ToTheMinute(DateTimeOffset? at) => at is { } time
        ? new DateTimeOffset((time.UtcTicks + (TimeSpan.TicksPerMinute / 2)) / TimeSpan.TicksPerMinute * TimeSpan.TicksPerMinute, TimeSpan.Zero)
        : null;

    private static DriftReading Reading(DriftReadingInput given) => new(given.At, given.Value)
    {
        Expected = given.Expected,
        ExpectedStandardUncertainty = given.ExpectedStandardUncertainty,
        DesignId = given.DesignId,
        MeterId = given.MeterId,
        Meter = CircuitMapping.Meter(given.Meter),
        Celsius = given.Celsius,
    };

    private static DriftChartAnswer Chart(DriftChart chart) => new()
    {
        Points =
        [
            .. chart.Points.Select(point => new ChartPointAnswer
            {
                At = point.At,
                Value = point.Value,
                Adjusted = point.Adjusted,
                Centre = point.Centre,
                Low = point.Low,
                High = point.High,
                IsOutlier = point.IsOutlier,
                Cusum = point.Cusum is { } sum ? new CusumAnswer { High = sum.High, Low = sum.Low, Signals = sum.Signals } : null,
                Ewma = point.Ewma is { } average
                    ? new EwmaAnswer { Value = average.Value, Low = average.Low, High = average.High, Signals = average.Signals }
                    : null,
            }),
        ],
        CusumDecision = chart.CusumDecision,
        FirstSignal = chart.FirstSignal,
    };
}
