using System.Collections.Immutable;
using System.Globalization;
using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Measurements;

/// <summary>Constructed cases whose best next reading is known beforehand.</summary>
public class NextMeasurementTests
{
    private const int Boxes = 10;

    /// <summary>The output stands at the open-circuit volts, nothing flows and all is dark: broken somewhere.</summary>
    private static readonly MeasuredReading[] Broken =
    [
        Volts("driver", 48), new("driver", MeasuredQuantity.Milliamps, 0),
        .. Enumerable.Range(1, Boxes).Select(i => new MeasuredReading($"f{i}", MeasuredQuantity.FittingLit, 0)),
    ];

    [Fact]
    public void A_broken_loop_is_halved_where_all_boxes_take_the_same()
    {
        var advice = NextMeasurement.Of(Loop(), Broken, AllOpen());
        foreach (var c in advice.Candidates.Take(14))
            TestContext.Current.TestOutputHelper!.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{string.Join(',', c.Places)} {c.Quantity} {c.Bits:0.000} {c.EffortMinutes} {c.BitsPerHour:0.00} {c.Text} {string.Join(" / ", c.WouldRead.Select(w => $"{w.Probability:0.000} {w.Text}: {w.If}"))}"));
        Assert.Null(advice.Stop);
        Assert.True(advice.Candidates[0].Places is ["b5" or "b6"]);
    }

    private static CircuitModel Loop() => new(
        DriveKind.ConstantCurrent,
        new DriverModel { RatedMilliamps = 350, LeastVolts = 10, MostVolts = 44, OpenCircuitVolts = 48 },
        [.. Enumerable.Range(1, Boxes).Select(i => new FittingModel($"f{i}", 1))],
        [
            .. Enumerable.Range(1, Boxes).Select(i => Some.Run(i == 1 ? "driver" : $"b{i - 1}", $"b{i}", 5, 1.5)),
            .. Enumerable.Range(1, Boxes).Select(i => Some.Run($"b{i}", $"f{i}", 1, 1)),
        ]);

    private static ImmutableArray<MeasuringPlace> AllOpen() =>
    [
        new("driver", PlaceAccess.AtHand),
        .. Enumerable.Range(1, Boxes).Select(i => new MeasuringPlace($"b{i}", PlaceAccess.OpenToReach)),
    ];

    private static MeasuredReading Volts(string place, double value) => new(place, MeasuredQuantity.VoltsDc, value);
}
