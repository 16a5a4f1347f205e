using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Networks;

/// <summary>Every change to a constant-voltage circuit, against Ohm's and Kirchhoff's laws.</summary>
public class NetworkFaultTests
{
    // 10 m of 2.5 mm² class 5, out and back, at 20 °C by IEC 60228: 0.1596 Ω.
    private const double Ohms = 2 * 7.98e-3 * 10;

    // 12 W at 12 V are 12 Ω each, at 10 and 20 m.
    private static readonly CircuitModel Two = new(
        DriveKind.ConstantVoltage,
        new DriverModel { RatedVolts = 12, MostAmps = 10 },
        [new("a", 12) { Load = LoadKind.Resistive }, new("b", 12) { Load = LoadKind.Resistive }],
        [Some.Run("driver", "a", 10), Some.Run("a", "b", 10)]);

    [Fact]
    public void Another_wattage() => Same(
        Two with { Fittings = Two.Fittings.SetItem(1, Two.Fittings[1] with { RatedWatts = 24 }) },
        new FittingHasWatts(1, 24));

    [Fact]
    public void An_open_fitting_draws_nothing()
    {
        var state = Solve(new FittingOpen(1));
        Assert.Equal(12 * 12 / (12 + Ohms), state.Volts("b"), 1e-12);
        Assert.Equal(0, state.Lit(1));
        Assert.Equal(0, state.Milliamps("b"));
    }

    [Fact]
    public void An_added_fitting_hangs_where_it_is_said_to()
    {
        var more = Two with
        {
            Fittings = Two.Fittings.Add(new("c", 5)),
            Runs = Two.Runs.Add(Some.Run("a", "c", 0)),
        };
        Same(more, new FittingAdded("a", 5));
        var far = more with { Runs = Two.Runs.Add(Some.Run("b", "c", 0)) };
        Same(far, new FittingAdded(null, 5));
    }

    [Fact]
    public void A_joint_a_length_an_area() => Assert.All<(RunModel Changed, CircuitChange Change)>(
        [
            (Two.Runs[1] with { JointOhms = 3 }, new RunJointOhms(1, 3)),
            (Two.Runs[1] with { LengthMetres = 25 }, new RunLengthFactor(1, 2.5)),
            (Two.Runs[1] with { AreaSquareMillimetres = 0.75 }, new RunHasArea(1, 0.75)),
        ],
        each => Same(Two with { Runs = Two.Runs.SetItem(1, each.Changed) }, each.Change));

    [Fact]
    public void All_runs_together_and_one_that_is_not_recorded()
    {
        Same(Two with { Runs = [.. Two.Runs.Select(r => r with { LengthMetres = 20 })] }, new RunLengthFactor(-1, 2));
        Same(
            Two with { Runs = [.. Two.Runs.Select(r => r with { AreaSquareMillimetres = 6 })] }, new RunHasArea(-1, 6));
        var state = Solve(new RunJointOhms(-1, 1));
        Assert.Equal(12, state.Volts("driver"));
        Assert.Equal(12 - (state.Milliamps("driver") / 1000 * (1 + Ohms)), state.Volts("a"), 1e-12);
    }

    [Fact]
    public void What_lies_beyond_a_broken_run_is_dead()
    {
        var state = Solve(new RunOpen(1));
        Assert.Equal((0, 0), (state.Volts("b"), state.Lit(1)));
        Assert.Equal(12 * 12 / (12 + Ohms), state.Volts("a"), 1e-12);
        var all = Solve(new RunOpen(-1));
        Assert.Equal((12, 0, 0), (all.Volts("driver"), all.Volts("a"), all.Milliamps("driver")));
    }

    [Fact]
    public void A_leak_draws_by_its_resistance()
    {
        var state = Solve(new FittingOpen(0), new FittingOpen(1), new CoresBridged("b", 100));
        Assert.Equal(12 * 100 / (100 + (2 * Ohms)), state.Volts("b"), 1e-12);
        Assert.Equal(12_000 / (100 + (2 * Ohms)), state.Milliamps("driver"), 1e-9);
    }

    [Fact]
    public void A_short_behind_enough_cable_leaves_what_the_cable_lets_through()
    {
        // 12 V through 2·0.1596 Ω and the fitting at the way would be 37.6 A and more; the driver gives 10 A.
        var state = Solve(new CoresBridged("b", 0));
        Assert.Equal(10_000, state.Milliamps("driver"), 1e-6);
        var atA = state.Volts("a");
        Assert.Equal(10, (atA / Ohms) + (atA / 12), 1e-4);
        Assert.Equal(atA + (10 * Ohms), state.Volts("driver"), 1e-9);
        Assert.Equal(0, state.Volts("b"), 1e-4);
        Assert.Equal(0, state.Lit(1), 1e-6);
    }

    [Fact]
    public void A_shorted_fitting_and_one_with_a_diode_across_it()
    {
        var shorted = Solve(new FittingBypassed(0, 0));
        Assert.Equal(10_000, shorted.Milliamps("driver"), 1e-6);
        Assert.Equal((0, 0), (shorted.Lit(0), Math.Round(shorted.Volts("b"), 4)));
        var diode = Solve(new FittingBypassed(0, 0.8));
        Assert.Equal(0.8, diode.Volts("a"), 1e-4);
        Assert.Equal(0.8 + (10 * Ohms), diode.Volts("driver"), 1e-4);
    }

    [Fact]
    public void At_a_limit_of_power_the_driver_sags_until_it_fits()
    {
        var model = Two with { Driver = new DriverModel { RatedVolts = 12, MostWatts = 15 } };
        var state = SolvedCircuit.Of(model, Some.Bare);
        Assert.Equal(15, state.Volts("driver") * state.Milliamps("driver") / 1000, 1e-9);
        // A resistive circuit takes the square of the voltage: at 12 V it takes what it does without a limit.
        var free = SolvedCircuit.Of(Two with { Driver = new DriverModel { RatedVolts = 12 } }, Some.Bare);
        var watts = free.Volts("driver") * free.Milliamps("driver") / 1000;
        Assert.Equal(12 * Math.Sqrt(15 / watts), state.Volts("driver"), 1e-9);
    }

    [Fact]
    public void Constant_power_at_a_limit_has_no_operating_point_and_the_refusal_says_so()
    {
        var model = Two with
        {
            Driver = new DriverModel { RatedVolts = 12, MostAmps = 1 },
            Fittings = [.. Two.Fittings.Select(f => f with { Load = LoadKind.ConstantPower })],
        };
        var plan = CircuitPlan.TryLay(model, Some.Bare, out _)!;
        Assert.Null(plan.Solve([], [], out var refusal));
        Assert.Equal(RefusalReason.BeyondDriver, refusal!.Reason);
    }

    [Fact]
    public void Linear_regulators_let_the_driver_sag_to_where_they_fall_out_of_regulation()
    {
        var model = Two with
        {
            Driver = new DriverModel { RatedVolts = 12, MostAmps = 1 },
            Fittings = [.. Two.Fittings.Select(f => f with { Load = LoadKind.ConstantCurrent })],
            Runs = [Some.Run("driver", "a", 0), Some.Run("a", "b", 0)],
        };
        // Two amperes asked for, one given: both at half their current, half way up to a tenth of 12 V.
        var state = SolvedCircuit.Of(model, Some.Bare);
        Assert.Equal(0.6, state.Volts("b"), 1e-9);
        Assert.Equal(500, state.Milliamps("b"), 1e-9);
    }

    [Fact]
    public void A_short_darkens_constant_power_near_it_and_leaves_the_rest()
    {
        // A driver of 60 A: the short takes some 15 A over 0.8 Ω, the other branch hardly notices.
        var model = new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel { RatedVolts = 12, MostAmps = 60 },
            [new("near", 5), new("far", 5), new("other", 5)],
            [Some.Run("driver", "near", 25), Some.Run("near", "far", 25), Some.Run("driver", "other", 10)]);
        var state = SolvedCircuit.Of(model, Some.Bare, new CoresBridged("far", 0));
        Assert.Equal((0, 1), (state.Lit(1), state.Lit(2)));
        Assert.Equal(12 - (5 / state.Volts("other") * Ohms), state.Volts("other"), 1e-9);
    }

    [Fact]
    public void Where_no_limit_is_recorded_a_driver_gives_three_times_the_circuits_current_into_a_short()
    {
        var model = Two with { Driver = new DriverModel { RatedVolts = 12 } };
        var sound = SolvedCircuit.Of(model, Some.Bare);
        var state = SolvedCircuit.Of(model, Some.Bare, new CoresBridged("driver", 0));
        Assert.Equal(3 * sound.Milliamps("driver"), state.Milliamps("driver"), 1e-6);
        Assert.Equal(0, state.Volts("driver"), 1e-4);
    }

    [Fact]
    public void A_bare_string_takes_what_its_curve_gives_at_the_voltage()
    {
        var model = Two with { Runs = [Some.Run("driver", "a", 0), Some.Run("a", "b", 0)] };
        var state = SolvedCircuit.Of(model, Some.Bare, new FittingForOtherDrive(0, 11));
        var rated = 12.0 / 11;
        var ratio = state.Milliamps("a") / 1000 / rated;
        Assert.True(ratio > 1);
        Assert.Equal(12.0 / 11, LedCurve.Default.VoltsRatio(ratio), 1e-12);
        Assert.Equal(12 * ratio * rated / 12, state.Lit(0), 1e-12);
    }

    [Fact]
    public void A_dead_driver_another_voltage_and_reversed_polarity()
    {
        var dead = Solve(new DriverDead());
        Assert.Equal((0, 0, 0, 0), (dead.Volts("driver"), dead.Volts("b"), dead.Milliamps("driver"), dead.Lit(0)));
        Assert.Equal(24, Solve(new DriverGives(24)).Volts("driver"));
        var reversed = Solve(new SupplyReversed());
        Assert.Equal(-SolvedCircuit.Of(Two, Some.Bare).Volts("b"), reversed.Volts("b"), 1e-12);
        var regulated = Two with { Fittings = [.. Two.Fittings.Select(f => f with { Load = LoadKind.ConstantPower })] };
        var dark = SolvedCircuit.Of(regulated, Some.Bare, new SupplyReversed());
        Assert.Equal((-12, 0, 0), (dark.Volts("b"), dark.Milliamps("driver"), dark.Lit(1)));
    }

    [Fact]
    public void A_change_to_what_is_not_there_is_refused_by_name()
    {
        var plan = CircuitPlan.TryLay(Two, null, out _)!;
        CircuitChange[] impossible =
        [
            new FittingOpen(2), new FittingHasWatts(0, double.NaN), new RunOpen(2), new RunOpen(-2),
            new CoresBridged("nowhere", 1), new CoresBridged("a", -1), new RunHasArea(0, 3), new RunLengthFactor(0, 0),
            new FittingAdded("nowhere", 3), new DriverGives(double.NaN), new FittingForOtherDrive(0, 0), null!,
        ];
        foreach (var change in impossible)
        {
            Assert.Null(plan.Solve([new FittingOpen(0), change], [], out var refusal));
            Assert.Equal((RefusalReason.OutOfRange, "changes[1]"), (refusal!.Reason, refusal.Field));
        }
    }

    private static SolvedCircuit Solve(params CircuitChange[] changes) => SolvedCircuit.Of(Two, Some.Bare, changes);

    // The changed circuit reads like one that is recorded so.
    private static void Same(CircuitModel recorded, CircuitChange change)
    {
        var (one, other) = (Solve(change), SolvedCircuit.Of(recorded, Some.Bare));
        Assert.All(["driver", "a", "b"], place => Assert.Equal(other.Volts(place), one.Volts(place), 1e-12));
        Assert.Equal(other.Milliamps("driver"), one.Milliamps("driver"), 1e-9);
    }
}
