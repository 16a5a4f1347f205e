using FleetLight.Contracts;
using FleetLight.Electrics;

namespace FleetLight.Record.Circuits;

/// <summary>Looks for drift in a circuit's tests of insulation, each side by itself. Insulation changes by factors.</summary>
internal static class InsulationDrifts
{
    /// <summary>Adds what the tests show.</summary>
    public static void Add(CircuitBasis basis, DriftOptions options, List<JudgedDrift> drifts)
    {
        foreach (var side in (basis.Insulation ?? [])
                     .Where(test => !(test.At < basis.DesignChangedAt))
                     .GroupBy(test => test.MainsSide).OrderBy(side => side.Key))
        {
            InsulationEntry[] tests = [.. side];
            if (tests.Length < options.LeastVisits) continue;
            var outcome = Drift.Of(SeriesOf(basis, tests), options);
            drifts.Add(new JudgedDrift(
                side.Key ? "Insulation of the mains side" : "Insulation of the output side",
                side.Key ? "insulation:mains-side" : "insulation:output-side",
                DriftViews.Of(ReadingPlaceKind.Driver, null, MeasuredQuantity.MegohmsInsulation, outcome) with { MainsSide = side.Key },
                DriftViews.Evidence(tests.Select(test => (test.At, test.Fact)), outcome)));
        }
    }

    private static DriftSeries SeriesOf(CircuitBasis basis, InsulationEntry[] tests) => new(
        MeasuredQuantity.MegohmsInsulation,
        [.. tests.Select(test => new DriftReading(test.At, test.Megohms) { MeterId = test.Tester })])
    {
        Works = [.. (basis.Works ?? []).Select(work => new RecordedWork(work.At, work.What))],
        LowLimit = tests[^1].NominalVolts is { } nominal
            ? InsulationResistance.For(nominal, TestJudge.IsExtraLow(nominal, tests[^1].MainsSide))?.LeastMegohms
            : null,
        LatitudeDegrees = basis.DriverPosition is { Coordinates: [_, var latitude, ..] } ? latitude : null,
    };
}
