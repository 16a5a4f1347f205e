using FleetLight.Contracts;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Circuits;

/// <summary>Looks for drift in the history of a circuit's readings and in its tests of insulation.</summary>
internal static class CircuitDrifts
{
    private static readonly DriftOptions Options = DriftOptions.Default;

    /// <summary>What the readings of each place and quantity, and the tests of each side, show, where there are enough.</summary>
    public static IReadOnlyList<JudgedDrift> Of(CircuitBasis basis, ReadingHistory history)
    {
        var isRead = basis.Reads is not null && history.Entries.Length >= Options.LeastVisits;
        if (!isRead && basis.Insulation is null) return [];
        var options = basis.Judging?.Settings.DriftLeadDays is { } days ? Options with { LeadDays = days } : Options;
        List<JudgedDrift> drifts = [];
        if (isRead) AddReadings(basis, basis.Reads!, history, options, drifts);
        InsulationDrifts.Add(basis, options, drifts);
        return drifts;
    }

    private static void AddReadings(
        CircuitBasis basis, ExpectedReadings reads, ReadingHistory history, DriftOptions options, List<JudgedDrift> drifts)
    {
        foreach (var spot in history.Entries
                     .Where(entry => !(entry.HappenedAt < basis.DesignChangedAt))
                     .GroupBy(entry => (entry.Place, Node: ReadingJudge.Node(basis, entry), entry.Quantity))
                     .OrderBy(spot => spot.Key.Place).ThenBy(spot => spot.Key.Node, StringComparer.Ordinal)
                     .ThenBy(spot => spot.Key.Quantity))
        {
            ReadingEntry[] entries = [.. spot];
            if (entries.Length < Options.LeastVisits) continue;
            var (newest, node) = (entries[^1], spot.Key.Node);
            var quantity = ReadingJudge.Translate(spot.Key.Quantity);
            if (Verdicts.EstimateFor(reads, node, quantity) is not { } estimate) continue;
            var outcome = Drift.Of(SeriesOf(basis, reads, entries, node, estimate), options);
            drifts.Add(new JudgedDrift(
                Places.Where(newest, node),
                Places.Key(newest, node),
                DriftViews.Of(newest.Place, newest.PlaceId, quantity, outcome),
                DriftViews.Evidence(entries.Select(entry => (entry.HappenedAt, entry.Fact)), outcome)));
        }
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

    private static DriftReading ReadingOf(ReadingEntry entry, string node, Estimate estimate)
    {
        var measured = ReadingJudge.Measured(entry, node);
        return new DriftReading(entry.HappenedAt, entry.Value)
        {
            Expected = estimate.Best,
            ExpectedStandardUncertainty = estimate.StandardUncertainty,
            MeterId = MeterOf(entry, measured.Meter),
            Meter = measured.Meter,
        };
    }

    // Where no meter is named, those of one device are told apart further by the accuracy that is stated.
    private static string MeterOf(ReadingEntry entry, MeterAccuracy? accuracy)
    {
        var meter = MeterNames.Of(entry.MeterName, entry.Source);
        return accuracy is { } stated && entry.MeterName is null
            ? $"{meter} {Words.Plain(stated.PercentOfReading)} {Words.Plain(stated.Digits)} {Words.Plain(stated.Resolution)}"
            : meter;
    }

    // A constant-voltage driver holds its volts whatever the weather; beyond it the drop in the copper follows it.
    private static double? SharePerKelvin(ExpectedReadings reads, MeasuredQuantity quantity, Estimate estimate)
    {
        if (reads.Drive != DriveKind.ConstantVoltage || quantity != MeasuredQuantity.VoltsDc || !(estimate.Best > 0))
            return null;
        return -ConductorResistance.CopperCoefficientPerKelvin * Math.Max(0, reads.DriverVoltsDc.Best - estimate.Best)
            / estimate.Best;
    }
}
