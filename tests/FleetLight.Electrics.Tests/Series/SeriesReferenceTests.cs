using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Series;

/// <summary>
/// Series circuits solved by an independent circuit simulator (ngspice 39): 350 mA through six luminaires of
/// 2.70 V + 0.80 Ω, on 1.5 mm² class 5, 40 m out and 40 m back (1.064 Ω).
/// </summary>
public class SeriesReferenceTests
{
    private const double Volts = 2.98;

    private static readonly CircuitModel Six =
        Some.Series([.. Enumerable.Repeat(Volts * 0.35, 6)]) with { Runs = [Some.Run("driver", "f6", 40, 1.5)] };

    // V(I) = 2.70 V + 0.80 Ω·I, as a share of 2.98 V at 350 mA.
    private static readonly Assumptions Straight = Some.Bare with { Led = new LedCurve(0, 0.28 / Volts) };

    [Fact]
    public void Sound_circuit_agrees()
    {
        var readings = Some.Readings(Six, Straight);
        Assert.Equal(18.2524, readings.DriverVoltsDc.Best, 1e-9);
        Assert.Equal(350, readings.DriverMilliamps.Best, 1e-9);
        Assert.Equal(1.064, readings.CableLoopOhms!.Best, 1e-9);
        Assert.Equal(1.064, readings.CableLoopOhmsAtMost!.Value, 1e-9);
        Assert.All(readings.Fittings, f => Assert.Equal(2.98, f.VoltsDc.Best, 1e-9));
        Assert.Equal(100 * 0.3724 / 18.2524, readings.WorstDropPercent, 1e-9);
    }

    [Fact]
    public void One_luminaire_shorted_agrees() =>
        Assert.Equal(15.272400, Solved(Six, new FittingBypassed(2, 0)).Volts("driver"), 1e-5);

    [Fact]
    public void Out_of_compliance_the_current_falls_as_far_as_the_simulator_says()
    {
        var limited = Six with { Driver = new DriverModel { RatedMilliamps = 350, MostVolts = 17.96981891 } };
        var state = Solved(limited);
        Assert.Equal(301.8108652, state.Milliamps("driver"), 1e-4);
        Assert.Equal(17.96981891, state.Volts("driver"), 1e-9);
        Assert.Equal(2.941448692, state.Volts("f6"), 1e-7);
    }

    /// <summary>1 kΩ between the cores behind the second luminaire, with 28 of the 40 m before it.</summary>
    [Fact]
    public void A_leak_divides_the_current_as_the_simulator_says()
    {
        var runs = Six.Fittings.Select((f, i) => Some.Run(i == 0 ? "driver" : i == 2 ? "box" : $"f{i}", f.Id, 0, 1.5));
        var model = Six with
        {
            Runs = [
                Some.Run("driver", "f1", 28, 1.5), Some.Run("f1", "f2", 0, 1.5), Some.Run("f2", "box", 0, 1.5),
                Some.Run("box", "f3", 12, 1.5), .. runs.Skip(3),
            ],
        };
        var state = Solved(model, new CoresBridged("box", 1000));
        Assert.Equal(338.0104735, state.Milliamps("f6"), 2e-6);
        Assert.Equal(350, state.Milliamps("f2"), 1e-9);
        Assert.Equal(18.2102065, state.Volts("driver"), 1e-6);
    }

    [Fact]
    public void An_open_loop_shows_the_open_circuit_voltage()
    {
        var model = Six with { Driver = new DriverModel { RatedMilliamps = 350, OpenCircuitVolts = 24 } };
        var state = Solved(model, new FittingOpen(2));
        Assert.Equal(24, state.Volts("driver"));
        Assert.Equal(24, state.Volts("f3"));
        Assert.Equal(0, state.Volts("f1"));
        Assert.Equal(0, state.Milliamps("driver"));
    }

    /// <summary>
    /// Shockley relation with 1.3e-16 A, ideality 3, 0.6 Ω at 25 °C, solved by hand and by simulator: 350, 500 and
    /// 700 mA.
    /// </summary>
    [Theory]
    [InlineData(350, 2.948508)]
    [InlineData(500, 3.066000)]
    [InlineData(700, 3.211935)]
    public void The_default_LED_follows_its_current_as_a_diode_does(double milliamps, double volts) =>
        Assert.Equal(volts, 2.948508 * LedCurve.Default.VoltsRatio(milliamps / 350), 2e-4);

    /// <summary>
    /// Khanna, Fundamentals of Solid-State Lighting (2014), eq. 14.1 to 14.3: 3.0 V falls to 2.7 V over 100 K, 10 %.
    /// </summary>
    [Fact]
    public void Forward_volts_fall_with_temperature_as_in_Khanna() =>
        Assert.Equal(2.7, 3.0 * (1 + (Assumptions.Default.ForwardVoltsPerKelvinPerVolt * (125 - 25))), 1e-9);

    /// <summary>Common practice, no source: a 350 mA loop of 0.5 mm² may run over a kilometre.</summary>
    [Fact]
    public void A_350_mA_loop_of_half_a_square_millimetre_runs_over_a_kilometre()
    {
        var model = Some.Series(1.6, 1.6, 1.6) with
        {
            Driver = new DriverModel { RatedMilliamps = 350, LeastVolts = 9, MostVolts = 48, MostWatts = 17 },
            Runs = [Some.Run("driver", "f3", 1100, 0.5)],
        };
        var readings = Some.Readings(model);
        Assert.True(readings.DriverVoltsDc.High95 < 48);
        Assert.True(readings.DriverWatts.High95 < 17);
        Assert.InRange(readings.CableLoopOhms!.Best, 79, 86);
    }

    [Fact]
    public void A_single_core_loop_counts_its_length_once()
    {
        var twin = Some.Series(1.6) with { Runs = [Some.Run("driver", "f1", 40, 1.5)] };
        var single = twin with { Runs = [twin.Runs[0] with { ConductorsInLoop = 1 }] };
        Assert.Equal(Ohms(twin), 2 * Ohms(single));
        static double Ohms(CircuitModel model) => Some.Readings(model, Some.Bare).CableLoopOhms!.Best;
    }

    [Fact]
    public void Surroundings_and_stated_temperature_set_the_resistance()
    {
        double Ohms(RunSurroundings where, double? celsius = null) => Some.Readings(Some.Series(1.6) with
        {
            Runs = [Some.Run("driver", "f1", 100, 1.5) with { Surroundings = where, ConductorCelsius = celsius }],
        }).CableLoopOhmsAtMost!.Value;
        const double at20 = 2 * 13.3 * 0.1;
        Assert.Equal(at20 * 0.98035, Ohms(RunSurroundings.Buried), 1e-9);
        Assert.Equal(at20, Ohms(RunSurroundings.InAir), 1e-9);
        Assert.Equal(at20 * 1.1179, Ohms(RunSurroundings.WarmBox), 1e-9);
        Assert.Equal(at20 * 1.1965, Ohms(RunSurroundings.Buried, 70), 1e-9);
    }

    private static SolvedCircuit Solved(CircuitModel model, params CircuitChange[] changes) =>
        SolvedCircuit.Of(model, Straight, changes);
}
