using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Series;

/// <summary>Every change to a series loop, against Ohm's and Kirchhoff's laws.</summary>
public class SeriesFaultTests
{
    // 10 m of 1.5 mm² class 5, out and back, at 20 °C by IEC 60228.
    private const double Ohms = 2 * 13.3e-3 * 10;

    // 1.75 W at 350 mA are 5 V.
    private const double Each = 5;
    private const double Drop = 0.35 * Ohms;

    // driver - box - f1 - f2, and f3 and f4 on branches of the box.
    private static readonly CircuitModel Four = new(
        DriveKind.ConstantCurrent,
        new DriverModel { RatedMilliamps = 350, MostVolts = 60, OpenCircuitVolts = 66 },
        [new("f1", 1.75), new("f2", 1.75), new("f3", 1.75), new("f4", 1.75)],
        [
            Run("driver", "box"), Run("box", "f1"), Run("f1", "f2"), Run("box", "f3"), Run("f3", "hut"), Run("hut", "f4"),
        ]);

    [Fact]
    public void Between_the_cores_stands_everything_beyond()
    {
        var state = Solve();
        Assert.Equal((4 * Each) + (6 * Drop), state.Volts("driver"), 1e-12);
        Assert.Equal((4 * Each) + (5 * Drop), state.Volts("box"), 1e-12);
        Assert.Equal(Each + Drop, state.Volts("hut"), 1e-12);
        Assert.Equal(Each, state.Volts("f4"), 1e-12);
        Assert.Equal(["driver", "f1", "f2", "f3", "f4"], state.State.Places[..5]);
        Assert.Equal(["box", "hut"], state.State.Places[5..].Order(StringComparer.Ordinal));
        Assert.Equal(6 * Ohms, state.Ohms(), 1e-12);
    }

    [Theory]
    [InlineData("no runs")]
    [InlineData("a ring")]
    [InlineData("a fitting without a run")]
    [InlineData("a run in the air")]
    public void Where_the_runs_do_not_tell_boxes_read_nothing_and_the_rest_stays(string why)
    {
        var model = why switch
        {
            "no runs" => Four with { Runs = [] },
            "a ring" => Four with { Runs = Four.Runs.Add(Run("f2", "driver")) },
            "a fitting without a run" => Four with { Fittings = Four.Fittings.Add(new("f5", 1.75)) },
            _ => Four with { Runs = Four.Runs.Add(Run("x", "y")) },
        };
        var state = SolvedCircuit.Of(model, Some.Bare);
        Assert.False(state.State.Predicts("box", MeasuredQuantity.VoltsDc));
        Assert.Equal(Each, state.Volts("f2"), 1e-12);
        Assert.Equal((Each * model.Fittings.Length) + (Drop * model.Runs.Length), state.Volts("driver"), 1e-12);
        Assert.Empty(Some.Readings(model).Nodes);
    }

    [Fact]
    public void A_single_core_run_beyond_a_box_hides_its_volts_and_no_others()
    {
        var model = Four with { Runs = Four.Runs.SetItem(4, Four.Runs[4] with { ConductorsInLoop = 1 }) };
        var state = SolvedCircuit.Of(model, Some.Bare);
        Assert.False(state.State.Predicts("box", MeasuredQuantity.VoltsDc));
        Assert.Equal(Each + Drop, state.Volts("hut"), 1e-12);
    }

    [Fact]
    public void A_fitting_stated_at_another_current_follows_the_curve()
    {
        var model = Some.Series(1.75) with { Fittings = [new("f1", 3.5) { StatedMilliamps = 700 }] };
        var state = SolvedCircuit.Of(model, Some.Bare);
        Assert.Equal(5 * LedCurve.Default.VoltsRatio(0.5), state.Volts("f1"), 1e-12);
        Assert.Equal(0.5, state.Lit(0), 1e-12);
    }

    [Fact]
    public void Another_driver_current_moves_the_volts_along_the_curve()
    {
        var state = Solve(new DriverGives(700));
        Assert.Equal(5 * LedCurve.Default.VoltsRatio(2), state.Volts("f1"), 1e-12);
        Assert.Equal(700, state.Milliamps("f2"), 1e-9);
        Assert.Equal(2, state.Lit(0), 1e-12);
    }

    [Fact]
    public void Another_wattage_a_bypass_and_one_more()
    {
        Assert.Equal(10, Solve(new FittingHasWatts(0, 3.5)).Volts("f1"), 1e-12);
        var bypassed = Solve(new FittingBypassed(3, 0.8));
        Assert.Equal((0.8, 0), (bypassed.Volts("f4"), bypassed.Lit(3)));
        Assert.Equal(0.8 + Drop, bypassed.Volts("hut"), 1e-12);
        var added = Solve(new FittingAdded("f4", 3.5));
        Assert.Equal(Each + 10 + Drop, added.Volts("hut"), 1e-12);
        Assert.Equal((4 * Each) + 10 + (6 * Drop), Solve(new FittingAdded(null, 3.5)).Volts("driver"), 1e-12);
    }

    [Fact]
    public void A_joint_a_length_an_area()
    {
        var joint = Solve(new RunJointOhms(4, 10));
        Assert.Equal(Each + Drop, joint.Volts("hut"), 1e-12);
        Assert.Equal((4 * Each) + (5 * Drop) + 3.5, joint.Volts("box"), 1e-12);
        Assert.Equal((6 * Ohms) + 10, joint.Ohms(), 1e-12);
        var atDriver = Solve(new RunJointOhms(-1, 10));
        Assert.Equal((4 * Each) + (5 * Drop), atDriver.Volts("box"), 1e-12);
        Assert.Equal((4 * Each) + (6 * Drop) + 3.5, atDriver.Volts("driver"), 1e-12);
        Assert.Equal((5 * Ohms) + (3 * Ohms), Solve(new RunLengthFactor(5, 3)).Ohms(), 1e-12);
        Assert.Equal(2 * 6 * Ohms, Solve(new RunLengthFactor(-1, 2)).Ohms(), 1e-12);
        Assert.Equal(6 * Ohms * 19.5 / 13.3, Solve(new RunHasArea(-1, 1)).Ohms(), 1e-12);
    }

    [Fact]
    public void Across_a_break_and_in_front_of_it_stands_the_open_circuit_voltage()
    {
        var fitting = Solve(new FittingOpen(3));
        Assert.Equal((66, 66, 66, 66), Read(fitting, "driver", "box", "hut", "f4"));
        Assert.Equal((0, 0), (fitting.Volts("f1"), fitting.Volts("f3")));
        Assert.Equal(6 * Ohms, fitting.Ohms(), 1e-12);
        var run = Solve(new RunOpen(4));
        Assert.Equal((66, 66, 0, 0), Read(run, "driver", "box", "hut", "f4"));
        Assert.Equal(SeriesPoint.OpenLoopOhms, run.Ohms());
        var atDriver = Solve(new RunOpen(-1));
        Assert.Equal((66, 0, 0, 0), Read(atDriver, "driver", "box", "hut", "f4"));
        Assert.All([fitting, run, atDriver], state => Assert.Equal((0, 0), (state.Milliamps("f1"), state.Lit(0))));
    }

    [Fact]
    public void Of_two_breaks_each_alone_shows_nothing()
    {
        var state = Solve(new FittingOpen(0), new FittingOpen(3));
        Assert.Equal((66, 66, 0, 0), Read(state, "driver", "box", "hut", "f4"));
        Assert.Equal(0, state.Volts("f1"));
    }

    [Theory]
    [InlineData(66.0, 60.0, 66)]
    [InlineData(null, 60.0, 60)]
    public void The_open_circuit_voltage_is_the_stated_one_or_else_the_greatest_running_one(
        double? open, double? most, double volts)
    {
        var model = Four with
        {
            Driver = new DriverModel { RatedMilliamps = 350, MostVolts = most, OpenCircuitVolts = open },
        };
        Assert.Equal(volts, SolvedCircuit.Of(model, Some.Bare, new RunOpen(-1)).Volts("driver"));
    }

    [Fact]
    public void A_dead_short_darkens_what_is_beyond()
    {
        var state = Solve(new CoresBridged("hut", 0));
        Assert.Equal((3 * Each) + (5 * Drop), state.Volts("driver"), 1e-12);
        Assert.Equal((0, 0, 0), (state.Volts("hut"), state.Volts("f4"), state.Lit(3)));
        Assert.Equal((350, 0), (Math.Round(state.Milliamps("hut"), 9), state.Milliamps("f4")));
        Assert.Equal(5 * Ohms, state.Ohms(), 1e-12);
        Assert.Equal(0, Solve(new CoresBridged("driver", 0)).Volts("driver"));
    }

    [Fact]
    public void A_leak_divides_the_current_by_what_is_beyond()
    {
        var state = Solve(new CoresBridged("hut", 100));
        var within = state.Milliamps("f4") / 1000;
        Assert.InRange(within, 0.25, 0.34);
        var volts = (Each * LedCurve.Default.VoltsRatio(within / 0.35)) + (within * Ohms);
        Assert.Equal(volts, 100 * (0.35 - within), 1e-9);
        Assert.Equal(volts, state.Volts("hut"), 1e-9);
        Assert.Equal((3 * Each) + (5 * Drop) + volts, state.Volts("driver"), 1e-9);
        Assert.Equal((5 * Ohms) + (Ohms * 100 / (Ohms + 100)), state.Ohms(), 1e-12);
    }

    [Fact]
    public void Leaks_within_leaks_and_beside_them_keep_Kirchhoffs_laws()
    {
        var state = Solve(new CoresBridged("box", 400), new CoresBridged("hut", 150), new CoresBridged("f1", 200));
        var (box, hut, f1) = (state.Volts("box"), state.Volts("hut"), BetweenCores(state));
        var beyond = state.Milliamps("f3") / 1000;
        Assert.Equal(0.35, (box / 400) + beyond, 1e-9);
        Assert.Equal(beyond, (hut / 150) + (state.Milliamps("f4") / 1000), 1e-9);
        Assert.Equal(beyond, (f1 / 200) + (state.Milliamps("f1") / 1000), 1e-9);
        Assert.Equal(box, f1 + hut + state.Volts("f3") + (3 * beyond * Ohms), 1e-9);
        Assert.Equal(box + Drop, state.Volts("driver"), 1e-9);

        // f1 and f2 with the run between them.
        static double BetweenCores(SolvedCircuit state) =>
            state.Volts("f1") + state.Volts("f2") + (state.Milliamps("f1") / 1000 * Ohms);
    }

    [Fact]
    public void A_leak_in_front_of_a_break_carries_what_the_driver_can()
    {
        var state = Solve(new CoresBridged("hut", 100), new FittingOpen(3));
        Assert.Equal(35, state.Volts("hut"), 1e-9);
        Assert.Equal((35, 0), (Math.Round(state.Volts("f4"), 9), state.Lit(3)));
        // 10 kΩ would need 3.5 kV: the driver stays at its greatest voltage.
        var large = Solve(new CoresBridged("hut", 10_000), new FittingOpen(3));
        Assert.Equal(60, large.Volts("driver"), 1e-9);
        Assert.InRange(large.Milliamps("driver"), 4, 6);
    }

    [Fact]
    public void Beyond_a_leak_of_next_to_nothing_no_string_conducts()
    {
        var state = Solve(new CoresBridged("box", 1));
        Assert.Equal(0.35, state.Volts("box"), 1e-9);
        Assert.All(Enumerable.Range(0, 4), i => Assert.Equal(0, state.Lit(i), 1e-9));
    }

    [Fact]
    public void Beyond_its_greatest_volts_or_watts_the_driver_gives_less_current()
    {
        var volts = SolvedCircuit.Of(
            Four with { Driver = new DriverModel { RatedMilliamps = 350, MostVolts = 19 } }, Some.Bare);
        var amps = volts.Milliamps("driver") / 1000;
        Assert.Equal(19, volts.Volts("driver"), 1e-9);
        Assert.Equal(19, (4 * 5 * LedCurve.Default.VoltsRatio(amps / 0.35)) + (6 * Ohms * amps), 1e-9);
        var watts = SolvedCircuit.Of(
            Four with { Driver = new DriverModel { RatedMilliamps = 350, MostVolts = 19, MostWatts = 2 } }, Some.Bare);
        Assert.Equal(2, watts.Volts("driver") * watts.Milliamps("driver") / 1000, 1e-9);
        Assert.True(watts.Milliamps("driver") < volts.Milliamps("driver"));
    }

    [Fact]
    public void A_reversed_supply_is_blocked_unless_every_fitting_lets_it_past()
    {
        var blocked = Solve(new SupplyReversed());
        Assert.Equal((-66, 0, 0), (blocked.Volts("driver"), blocked.Milliamps("driver"), blocked.Lit(0)));
        Assert.False(blocked.State.Predicts("f1", MeasuredQuantity.VoltsDc));
        Assert.False(blocked.State.Predicts("hut", MeasuredQuantity.VoltsDc));
        Assert.Equal(-66, blocked.Volts("box"));
        var withDiodes = Four with { Fittings = [.. Four.Fittings.Select(f => f with { HasBypassDiode = true })] };
        var state = SolvedCircuit.Of(withDiodes, Some.Bare, new SupplyReversed());
        Assert.Equal(-((4 * LoopBuilt.DiodeVolts) + (6 * Drop)), state.Volts("driver"), 1e-12);
        Assert.Equal((-350, -LoopBuilt.DiodeVolts), (Math.Round(state.Milliamps("f1"), 9), state.Volts("f1")));
        Assert.Equal(0, state.Lit(0));
    }

    [Fact]
    public void A_fitting_for_constant_voltage_needs_its_volts_at_its_own_current()
    {
        // 4.2 W at 12 V are 350 mA.
        Assert.Equal(12, Solve(new FittingHasWatts(0, 4.2), new FittingForOtherDrive(0, 12)).Volts("f1"), 1e-12);
        // At half of that current it would carry twice its current: a quarter more volts.
        Assert.Equal(15, Solve(new FittingHasWatts(0, 2.1), new FittingForOtherDrive(0, 12)).Volts("f1"), 1e-12);
    }

    [Fact]
    public void A_dead_driver_reads_nothing_but_the_loop()
    {
        var state = Solve(new DriverDead());
        Assert.Equal((0, 0, 0, 0), Read(state, "driver", "box", "hut", "f4"));
        Assert.Equal((0, 0), (state.Milliamps("driver"), state.Lit(0)));
        Assert.Equal(6 * Ohms, state.Ohms(), 1e-12);
    }

    [Fact]
    public void Without_known_runs_a_touch_at_a_fitting_takes_the_cable_in_proportion()
    {
        var model = Some.Series(1.75, 1.75, 1.75, 1.75) with { Runs = [Run("driver", "somewhere") with { LengthMetres = 40 }] };
        var state = SolvedCircuit.Of(model, Some.Bare, new CoresBridged("f3", 0));
        Assert.Equal((2 * Each) + (4 * Drop * 2.5 / 4), state.Volts("driver"), 1e-12);
        Assert.Equal((1, 0), (state.Lit(1), state.Lit(2)));
    }

    [Fact]
    public void Tails_and_recorded_joints_count_in_the_loop_and_not_at_the_fitting()
    {
        var model = Four with
        {
            Fittings = Four.Fittings.SetItem(3, Four.Fittings[3] with { Tail = new(10, 1.5, ConductorClass.Class5) }),
            Runs = Four.Runs.SetItem(5, Four.Runs[5] with { JointOhms = 0.1 }),
        };
        var state = SolvedCircuit.Of(model, Some.Bare);
        Assert.Equal(Each, state.Volts("f4"), 1e-12);
        Assert.Equal(Each + (2 * Drop) + 0.035, state.Volts("hut"), 1e-12);
        Assert.Equal((7 * Ohms) + 0.1, state.Ohms(), 1e-12);
        Assert.Equal((7 * Ohms) + 0.1, Some.Readings(model, Some.Bare).CableLoopOhmsAtMost!.Value, 1e-12);
    }

    private static SolvedCircuit Solve(params CircuitChange[] changes) => SolvedCircuit.Of(Four, Some.Bare, changes);

    private static (double, double, double, double) Read(SolvedCircuit state, string a, string b, string c, string d) =>
        (state.Volts(a), state.Volts(b), state.Volts(c), state.Volts(d));

    private static RunModel Run(string from, string to) => Some.Run(from, to, 10, 1.5);
}
