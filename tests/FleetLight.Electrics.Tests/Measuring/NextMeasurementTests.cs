using System.Collections.Immutable;
using System.Diagnostics;
using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Electrics.Tests.Totality;
using FsCheck.Xunit;

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

    /// <summary>Two halves of equal weight are told apart by one bit (Shannon 1948).</summary>
    [Fact]
    public void A_broken_loop_is_halved_where_all_boxes_take_the_same()
    {
        var advice = NextMeasurement.Of(Loop(), Broken, AllOpen());
        Assert.Null(advice.Stop);
        var best = advice.Candidates[0];
        Assert.True(best.Places is ["b5" or "b6"]);
        Assert.Equal(MeasuredQuantity.VoltsDc, best.Quantity);
        Assert.InRange(best.Bits, 0.97, 1);
        Assert.Contains(best.WouldRead, line => line.Text == "about 48.0 V");
        Assert.Contains(best.WouldRead, line => line.Text == "about 0.00 V");
        Assert.InRange(best.WouldRead.Sum(line => line.Probability), 0.95, 1 + 1e-9);
    }

    /// <summary>Whoever has one thread for everything goes through the steps and does other work between them.</summary>
    [Fact]
    public void In_steps_it_comes_to_the_same_and_can_be_left_off_at_any_of_them()
    {
        var steps = NextMeasurement.InSteps(Loop(), Broken, AllOpen()).ToList();

        Assert.True(steps.Count > 100, $"There are {steps.Count} steps.");
        Assert.All(steps.SkipLast(1), Assert.Null);
        Assert.Equal(JsonSerializer.Serialize(NextMeasurement.Of(Loop(), Broken, AllOpen())), JsonSerializer.Serialize(steps[^1]));
        Assert.Equal(10, NextMeasurement.InSteps(Loop(), Broken, AllOpen()).Take(10).Count());
        Assert.Equal(StopReason.NothingKnown, Assert.Single(NextMeasurement.InSteps(null, null))!.Stop!.Reason);
    }

    /// <summary>On the largest circuit none of the steps is a large part of the work: in a browser, all of it takes tens of seconds.</summary>
    [Fact]
    public void Each_step_is_short_on_two_hundred_fittings()
    {
        const int Fittings = 200;
        var avenue = new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel { RatedVolts = 24, MostWatts = 400 },
            [.. Enumerable.Range(1, Fittings).Select(i => new FittingModel($"f{i}", 1))],
            [.. Enumerable.Range(1, Fittings).Select(i => Some.Run(i == 1 ? "driver" : $"f{i - 1}", $"f{i}", 0.5, 6))]);
        MeasuredReading[] low = [Volts("driver", 20)];

        // What else runs on the machine makes some step of each round long, not the same step of all of them.
        double[][] rounds = [.. Enumerable.Range(0, 4).Select(_ => Milliseconds(NextMeasurement.InSteps(avenue, low)))];
        double[] least = [.. Enumerable.Range(0, rounds[0].Length).Select(step => rounds.Min(round => round[step]))];

        Assert.True(least.Max() < least.Sum() / 20, $"The longest of {least.Length} steps takes {least.Max():0.0} of {least.Sum():0.0} ms.");
    }

    private static double[] Milliseconds<T>(IEnumerable<T> steps)
    {
        var taken = new List<double>();
        var began = Stopwatch.GetTimestamp();
        foreach (var _ in steps)
        {
            taken.Add(Stopwatch.GetElapsedTime(began).TotalMilliseconds);
            began = Stopwatch.GetTimestamp();
        }

        return [.. taken];
    }

    [Fact]
    public void A_box_that_needs_digging_gives_way_to_one_that_does_not()
    {
        ImmutableArray<MeasuringPlace> places =
            [.. AllOpen().Select(p => p.Id is "b5" or "b6" ? p with { Access = PlaceAccess.NeedsDigging } : p)];
        var advice = NextMeasurement.Of(Loop(), Broken, places);
        Assert.True(advice.Candidates[0].Places is ["b4" or "b7"]);
        var dug = advice.Candidates.First(c => c.Places is ["b5"]);
        Assert.True(dug.Bits > advice.Candidates[0].Bits);
        Assert.Contains("digging", dug.Caution, StringComparison.Ordinal);
    }

    [Fact]
    public void A_stated_effort_counts_before_the_usual_one()
    {
        ImmutableArray<MeasuringPlace> places =
            [.. AllOpen().Select(p => p.Id == "b9" ? p with { EffortMinutes = 0 } : p with { EffortMinutes = 60 })];
        Assert.Equal(["b9"], NextMeasurement.Of(Loop(), Broken, places).Candidates[0].Places);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(4)]
    [InlineData(7)]
    [InlineData(10)]
    public void The_break_is_found_in_about_as_many_readings_as_halving_needs(int broken)
    {
        var readings = Broken.ToList();
        var steps = 0;
        MeasuringAdvice advice;
        for (; (advice = NextMeasurement.Of(Loop(), readings, AllOpen())).Stop is null; steps++)
        {
            var (place, quantity) = (advice.Candidates[0].Places[0], advice.Candidates[0].Quantity);
            readings.Add(new MeasuredReading(place, quantity, quantity switch
            {
                // In a box before the break the cores have the driver's volts.
                MeasuredQuantity.VoltsDc => place[0] == 'b' && int.Parse(place[1..], null) < broken ? 48 : 0,
                // The meter shows no figure, written down as its greatest.
                MeasuredQuantity.LoopOhms => 1e6,
                _ => 0,
            }));
        }

        // log₂ of the 10 runs and 10 fittings that it may be is 4.3.
        Assert.InRange(steps, 4, 6);
        // Nothing at the boxes tells a break in the trunk from one in the cable to the fitting before it.
        Assert.True(advice.Stop is { Reason: StopReason.OneExplanation or StopReason.OneGroup, Probability: >= 0.95 });
        var run = broken == 1 ? "driver-b1" : $"b{broken - 1}-b{broken}";
        Assert.Contains(run, advice.Stop.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_one_fitting_is_dark_a_look_comes_first_and_settles_it()
    {
        var loop = Loop();
        var sound = Some.Readings(loop).DriverVoltsDc.Best;
        MeasuredReading[] first = [Volts("driver", sound - (1 / 0.35)), new("driver", MeasuredQuantity.Milliamps, 350)];
        var best = NextMeasurement.Of(loop, first).Candidates[0];
        Assert.Equal(MeasuredQuantity.FittingLit, best.Quantity);
        Assert.Equal(Boxes, best.Places.Length);
        var seen = best.Places
            .Select(id => new MeasuredReading(id, MeasuredQuantity.FittingLit, id == "f7" ? 0 : 1));
        var after = NextMeasurement.Of(loop, [.. first, .. seen]);
        Assert.Equal(StopReason.OneExplanation, after.Stop?.Reason);
        Assert.Contains("f7", after.Stop!.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(after.Candidates, c => c.Quantity == MeasuredQuantity.FittingLit);
    }

    [Fact]
    public void What_has_been_read_is_not_proposed_again()
    {
        var advice = NextMeasurement.Of(Loop(), [.. Broken, Volts("b5", 48)], AllOpen());
        Assert.DoesNotContain(advice.Candidates, c => c.Places is ["b5"] && c.Quantity == MeasuredQuantity.VoltsDc);
        Assert.DoesNotContain(advice.Candidates, c => c.Places is ["driver"] && c.Quantity == MeasuredQuantity.VoltsDc);
    }

    [Fact]
    public void A_reading_that_looks_like_a_slip_is_proposed_once_more()
    {
        var loop = Loop();
        var sound = Some.Readings(loop);
        var advice = NextMeasurement.Of(loop,
        [
            Volts("driver", sound.DriverVoltsDc.Best / 1000), new("driver", MeasuredQuantity.Milliamps, 350),
            .. loop.Fittings.Select(f => new MeasuredReading(f.Id, MeasuredQuantity.FittingLit, 1)),
        ]);
        Assert.Contains(advice.Candidates, c => c.Places is ["driver"] && c.Quantity == MeasuredQuantity.VoltsDc);
    }

    [Fact]
    public void Without_a_place_that_tells_them_apart_it_stops_and_says_so()
    {
        MeasuredReading[] readings = [.. Broken, new("driver", MeasuredQuantity.LoopOhms, 1e6)];
        var advice = NextMeasurement.Of(Loop(), readings, [new MeasuringPlace("driver", PlaceAccess.AtHand)]);
        Assert.Equal(StopReason.OneGroup, advice.Stop?.Reason);
        Assert.True(advice.OpenBits > 2);
        Assert.All(advice.Candidates, c => Assert.InRange(c.Bits, 0, advice.OpenBits + 1e-9));
    }

    [Fact]
    public void The_order_of_the_places_makes_no_difference()
    {
        var one = NextMeasurement.Of(Loop(), Broken, AllOpen());
        var other = NextMeasurement.Of(Loop(), Broken, [.. AllOpen().Reverse()]);
        Assert.Equal(
            one.Candidates.Select(c => (c.Places[0], c.Quantity, c.Bits)),
            other.Candidates.Select(c => (c.Places[0], c.Quantity, c.Bits)));
    }

    [Fact]
    public void The_answer_can_be_stored()
    {
        var advice = NextMeasurement.Of(Loop(), Broken, AllOpen());
        var read = JsonSerializer.Deserialize<MeasuringAdvice>(JsonSerializer.Serialize(advice))!;
        Assert.Equal(advice.Candidates.Length, read.Candidates.Length);
        Assert.Equal(advice.Candidates[0].WouldRead[0], read.Candidates[0].WouldRead[0]);
        Assert.Equal(advice.Candidates[0].BitsPerHour, read.Candidates[0].BitsPerHour);
    }

    [Property(Arbitrary = [typeof(Hostile)], MaxTest = 300)]
    public bool It_answers_whatever_goes_in(
        CircuitModel model, MeasuredReading[] readings, double minutes, string place)
    {
        var options = new MeasuringOptions
        {
            EnoughProbability = minutes,
            LeastBitsPerHour = -minutes,
            Effort = new MeasuringEffort { WalkMinutes = minutes, LookMinutes = 0 },
            Diagnosis = null!,
        };
        MeasuringPlace?[] places =
            [null, new(place, (PlaceAccess)42) { EffortMinutes = minutes }, new("driver", default), new("n1", default)];
        var advice = NextMeasurement.Of(model, readings, minutes > 0 ? places : null, options);
        return advice.Candidates.All(c => c.Bits >= 0 && c.Bits <= advice.OpenBits + 1e-6 && c.EffortMinutes >= 0)
            && (advice.Stop is null || advice.Stop.Text.Length > 0);
    }

    [Fact]
    public void Nothing_at_all_is_answered() =>
        Assert.Equal(StopReason.NothingKnown, NextMeasurement.Of(null, null).Stop?.Reason);

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
