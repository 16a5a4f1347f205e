using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.HeadroomAndChange;

/// <summary>Examples worked by hand from published figures.</summary>
public class WorkedExampleTests
{
    /// <summary>
    /// Six fittings of 3.0 V and 1.05 W at 350 mA on 40 m of 1.5 mm² class 5 (IEC 60228: 13.3 Ω/km, so 1.064 Ω out and
    /// back): 18 + 0.3724 V. Four more on 50 m (1.33 Ω): 30 + 0.3724 + 0.4655 = 30.8379 V.
    /// </summary>
    [Fact]
    public void A_series_loop_adds_the_forward_volts_and_the_drop_of_the_new_run()
    {
        var answer = Asked.Answer(FourMore(36, 50), assumptions: Some.Bare);
        Assert.Equal(MayBeAdded.Yes, answer.May);
        Assert.Equal(36 - 18.3724, answer.Before!.VoltsDc!.Value, 1e-9);
        Assert.Equal(36 - 30.8379, answer.After!.VoltsDc!.Value, 1e-9);
        Assert.Equal(30.8379, answer.Readings!.DriverVoltsDc.Best, 1e-9);
        Assert.Equal(10, answer.Fittings.Length);
        Assert.Equal(["new1", "new2", "new3", "new4"], answer.Fittings.Where(f => f.IsNew).Select(f => f.FittingId));
        Assert.All(answer.Fittings, f => Assert.Equal(3.0, f.VoltsDc.Best, 1e-9));
    }

    /// <summary>
    /// The same: (36 − 30.3724) V at 0.35 A leaves 16.0789 Ω, which 1.5 mm² reaches at 16.0789 / (2 × 0.0133) = 604.4 m
    /// and 0.75 mm² (26.0 Ω/km) at 309.2 m.
    /// </summary>
    [Fact]
    public void The_longest_run_of_a_series_loop_is_what_the_volts_left_over_allow()
    {
        var answer = Asked.Answer(FourMore(36, 50), assumptions: Some.Bare);
        Assert.Equal(604.4, Asked.Longest(answer, 1.5));
        Assert.Equal(309.2, Asked.Longest(answer, 0.75));
        Assert.All(answer.LongestRuns, l => Assert.Equal(HeadroomLimit.DriverMostVolts, l.EndedBy));
    }

    /// <summary>The answer is yes-but between the margin and the limit, and no above the limit.</summary>
    [Theory]
    [InlineData(34.3, MayBeAdded.Yes)]
    [InlineData(34.2, MayBeAdded.YesBut)]
    [InlineData(30.84, MayBeAdded.YesBut)]
    [InlineData(30.83, MayBeAdded.No)]
    public void The_margin_of_the_driver_is_10_percent_unless_stated(double most, MayBeAdded may) =>
        Assert.Equal(may, Asked.Answer(FourMore(most, 50), assumptions: Some.Bare).May);

    /// <summary>With tolerances it is the upper end of the 95 % interval that counts.</summary>
    [Fact]
    public void The_upper_end_of_the_interval_is_held_against_the_limit()
    {
        var question = new HeadroomQuestion(
            Some.Series(1.05, 1.05) with { Driver = new DriverModel { RatedMilliamps = 350, MostVolts = 12.2 } },
            Asked.Fittings(2, 1.05), new AddedWhere("f2"));
        var answer = Asked.Answer(question);
        Assert.True(answer.Readings!.DriverVoltsDc.Best < 12.2 && answer.Readings.DriverVoltsDc.High95 > 12.2);
        Assert.Equal(MayBeAdded.No, answer.May);
        Assert.True(answer.After!.VoltsDc > 0 && answer.After.VoltsDcAtHigh95 < 0);
    }

    /// <summary>
    /// One constant power behind a resistance (maximum power transfer): 12 V, 0.5 Ω, 20 W leaves 11.0990195 V, and 72 W
    /// is the most. 0.5 Ω is 33.738 m of 2.5 mm² class 1 (IEC 60228: 7.41 Ω/km).
    /// </summary>
    [Theory]
    [InlineData(20, 11.0990195)]
    [InlineData(71.9, 6.2236068)]
    public void A_constant_power_behind_a_run(double watts, double volts)
    {
        var answer = Asked.Answer(OneLoad(12, watts, 0.5 / 2 / 0.00741), NoDropLimit, Some.Bare);
        Assert.Equal(volts, Assert.Single(answer.Fittings).VoltsDc.Best, 1e-6);
        Assert.Equal(100 * (12 - volts) / 12, answer.Fittings[0].DropPercent!.Value, 1e-5);
        Assert.Null(answer.Before);
    }

    [Fact]
    public void More_than_the_most_collapses_and_says_how_much_goes()
    {
        var answer = Asked.Answer(OneLoad(12, 73, 0.5 / 2 / 0.00741), NoDropLimit, Some.Bare);
        Assert.Equal(MayBeAdded.No, answer.May);
        Assert.Equal(HeadroomLimit.VoltageCollapse, answer.Reasons[0].Limit);
        Assert.Equal(72, answer.Reasons[0].LimitValue!.Value, 1e-3);
        Assert.Null(answer.Readings);
        Assert.Null(answer.After);
    }

    /// <summary>
    /// 20 W at 24 V with a drop of 5 %: 22.8 V and 0.877193 A leave 1.368 Ω, which is 85.71 m of 2.5 mm² class 5 (7.98
    /// Ω/km) and 51.43 m of 1.5 mm² (13.3 Ω/km).
    /// </summary>
    [Fact]
    public void The_longest_run_on_constant_voltage_is_what_the_drop_allows()
    {
        var answer = Asked.Answer(OneLoad(24, 20, 10, ConductorClass.Class5), assumptions: Some.Bare);
        Assert.Equal(85.7, Asked.Longest(answer, 2.5));
        Assert.Equal(51.4, Asked.Longest(answer, 1.5));
        Assert.Equal(HeadroomLimit.VoltageDrop, answer.LongestRuns[0].EndedBy);
    }

    /// <summary>
    /// BS 7671 table 4D1B (two figures) in mV/A/m at 70 °C, and IEC 60364-5-52 Annex G, u = 2·0.0225·L·I/S, which is
    /// never below it by more than the rounding of the table: 700 mA over 60 m.
    /// </summary>
    [Theory]
    [InlineData(1.0, 44)]
    [InlineData(1.5, 29)]
    [InlineData(2.5, 18)]
    [InlineData(4, 11)]
    [InlineData(6, 7.3)]
    [InlineData(10, 4.4)]
    public void The_drop_of_the_new_run_is_that_of_the_published_tables(double area, double millivolts)
    {
        var hot = Some.Bare with { Buried = new AssumedTemperature(70, 0) };
        var circuit = Some.Series(2.1) with
        {
            Driver = new DriverModel { RatedMilliamps = 700, MostVolts = 60, OutputTolerancePercent = 0 },
        };
        var added = Asked.Fittings(1, 2.1, 0);
        var none = Asked.Answer(new(Asked.Exact(circuit), added, new AddedWhere("f1")), null, hot);
        var run = new AddedWhere("f1") { Run = Asked.Run(60, area, ConductorClass.Class2) };
        var laid = Asked.Answer(new(Asked.Exact(circuit), added, run), null, hot);
        var drop = laid.Readings!.DriverVoltsDc.Best - none.Readings!.DriverVoltsDc.Best;
        Assert.Equal(millivolts * 0.7 * 60 / 1000, drop, 0.02 * drop);
        var annexG = VoltageDrop.AnnexGVolts(60, area, 0.7)!.Value;
        Assert.InRange(annexG / drop, 1.0, 1.05);
    }

    private static HeadroomOptions NoDropLimit { get; } = new() { MostDropPercent = null };

    private static HeadroomQuestion FourMore(double most, double metres)
    {
        var circuit = Some.Series(1.05, 1.05, 1.05, 1.05, 1.05, 1.05) with
        {
            Driver = new DriverModel { RatedMilliamps = 350, MostVolts = most, OpenCircuitVolts = 40 },
            Runs = [Some.Run("driver", "f1", 40, 1.5)],
        };
        return new HeadroomQuestion(
            Asked.Exact(circuit), Asked.Fittings(4, 1.05, 0), new AddedWhere("f6") { Run = Asked.Run(metres, 1.5) });
    }

    private static HeadroomQuestion OneLoad(
        double volts, double watts, double metres, ConductorClass kind = ConductorClass.Class1) => new(
        new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel { RatedVolts = volts, MostAmps = 100, OutputTolerancePercent = 0 }, [], []),
        Asked.Fittings(1, watts, 0),
        new AddedWhere("driver") { Run = Asked.Run(metres, 2.5, kind) });
}
