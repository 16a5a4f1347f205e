using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Circuits;

/// <summary>Looks for drift in the history of a circuit's readings.</summary>
internal static class CircuitDrifts
{
    // Enough to look it up by; the history shows the rest.
    private const int MostEvidence = 8;

    private static readonly DriftOptions Options = DriftOptions.Default;

    /// <summary>What the readings of each place and quantity show, where there are enough of them.</summary>
    public static IReadOnlyList<JudgedDrift> Of(CircuitBasis basis, ReadingHistory history)
    {
        if (basis.Reads is not { } reads || history.Entries.Length < Options.LeastVisits) return [];
        var options = basis.Judging?.Settings.DriftLeadDays is { } days ? Options with { LeadDays = days } : Options;
        List<JudgedDrift> drifts = [];
        foreach (var spot in history.Entries
                     .Where(entry => !(entry.HappenedAt < basis.DesignChangedAt))
                     .GroupBy(entry => (entry.Place, Node: ReadingJudge.Node(basis, entry), entry.Quantity))
                     .OrderBy(spot => spot.Key.Place).ThenBy(spot => spot.Key.Node, StringComparer.Ordinal)
                     .ThenBy(spot => spot.Key.Quantity))
        {
            ReadingEntry[] entries = [.. spot];
            if (entries.Length < Options.LeastVisits) continue;
            var quantity = ReadingJudge.Translate(spot.Key.Quantity);
            if (Verdicts.EstimateFor(reads, spot.Key.Node, quantity) is not { } estimate) continue;
            var outcome = Drift.Of(SeriesOf(basis, reads, entries, spot.Key.Node, estimate), options);
            drifts.Add(new JudgedDrift(entries[^1], spot.Key.Node, View(entries[^1], outcome), Evidence(entries, outcome)));
        }

        return drifts;
    }

    private static DriftSeries SeriesOf(
        CircuitBasis basis, ExpectedReadings reads, ReadingEntry[] entries, string node, Estimate estimate)
    {
        var quantity = ReadingJudge.Translate(entries[0].Quantity);
        var outside = Verdicts.Judge(
            reads, new MeasuredReading(node, quantity, estimate.Best), (basis.Judging ?? Judging.Default).Rule).OutsideBeyond;
        var high = estimate.Best + outside;
        // Beyond its greatest voltage a driver no longer holds the current, well before tolerances are used up.
        if (node == CircuitModel.DriverNode && quantity == MeasuredQuantity.VoltsDc && reads.Drive == DriveKind.ConstantCurrent
            && basis.Model?.Driver.MostVolts < high && basis.Model.Driver.MostVolts > estimate.Best)
            high = basis.Model.Driver.MostVolts;
        return new DriftSeries(quantity, [.. entries.Select(entry => ReadingOf(entry, node, estimate))])
        {
            Works = [.. (basis.Works ?? []).Select(work => new RecordedWork(work.At, work.What))],
            LowLimit = estimate.Best - outside,
            HighLimit = high,
            SharePerKelvin = SharePerKelvin(reads, quantity, estimate),
            LatitudeDegrees = basis.DriverPosition is { Coordinates: [_, var latitude, ..] } ? latitude : null,
        };
    }

    // Which meter a crew holds is not recorded: a device stands for the meter that goes with it, told apart further by the
    // accuracy that is stated.
    private static DriftReading ReadingOf(ReadingEntry entry, string node, Estimate estimate)
    {
        var measured = ReadingJudge.Measured(entry, node);
        return new DriftReading(entry.HappenedAt, entry.Value)
        {
            Expected = estimate.Best,
            ExpectedStandardUncertainty = estimate.StandardUncertainty,
            MeterId = measured.Meter is { } meter
                ? $"{entry.Source} {Words.Plain(meter.PercentOfReading)} {Words.Plain(meter.Digits)} {Words.Plain(meter.Resolution)}"
                : entry.Source,
            Meter = measured.Meter,
        };
    }

    // A constant-voltage driver holds its volts whatever the weather; beyond it the drop in the copper follows it.
    private static double? SharePerKelvin(ExpectedReadings reads, MeasuredQuantity quantity, Estimate estimate)
    {
        if (reads.Drive != DriveKind.ConstantVoltage || quantity != MeasuredQuantity.VoltsDc || !(estimate.Best > 0))
            return null;
        return -ConductorResistance.CopperCoefficientPerKelvin * Math.Max(0, reads.DriverVoltsDc.Best - estimate.Best)
            / estimate.Best;
    }

    private static DriftView View(ReadingEntry newest, DriftOutcome outcome)
    {
        var found = outcome as DriftFinding;
        var refused = outcome as CannotTellDrift;
        var slow = found is { Kind: DriftKind.SlowChange } ? found : null;
        var towards = slow?.Crossings.FirstOrDefault(crossing => crossing.IsUpper == slow.Rate.PerYear > 0);
        return new DriftView
        {
            Place = newest.Place,
            PlaceId = newest.PlaceId,
            Quantity = newest.Quantity,
            Trend = found?.Kind switch
            {
                DriftKind.Steady => ReadingTrend.Steady,
                DriftKind.Watch => ReadingTrend.Watch,
                DriftKind.SlowChange => ReadingTrend.SlowChange,
                DriftKind.UnexplainedStep => ReadingTrend.UnexplainedStep,
                _ => ReadingTrend.CannotTell,
            },
            Says = found?.Text ?? refused?.Text ?? "",
            Visits = found?.Visits ?? refused?.Visits ?? 0,
            Rate = found is null
                ? null
                : new RateView
                {
                    PerYear = Rounded(found.Rate.PerYear),
                    Low = Rounded(found.Rate.Low),
                    High = Rounded(found.Rate.High),
                },
            ChangesSince = slow?.ChangesSince,
            Crossing = towards is null
                ? null
                : new CrossingView
                {
                    Limit = Rounded(towards.Limit),
                    Earliest = DayOf(towards.Earliest),
                    Likely = DayOf(towards.Likely),
                    Latest = DayOf(towards.Latest),
                },
            VisitBy = DayOf(slow?.VisitBy),
            AsksForVisit = found?.AsksForVisit ?? false,
        };
    }

    private static List<string> Evidence(ReadingEntry[] entries, DriftOutcome outcome)
    {
        var found = outcome as DriftFinding;
        var since = found?.ChangesSince ?? found?.Steps.LastOrDefault(step => !step.IsExplained)?.After;
        return [.. entries.Where(entry => !(entry.HappenedAt < since)).TakeLast(MostEvidence).Select(entry => entry.Fact)];
    }

    private static double Rounded(double value) => Math.Round(value, 4);

    private static DateTimeOffset? DayOf(DateTimeOffset? at) =>
        at is { } then ? new DateTimeOffset(then.UtcDateTime.Date, TimeSpan.Zero) : null;
}
