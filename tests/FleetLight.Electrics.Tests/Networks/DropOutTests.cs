using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Networks;

/// <summary>Fittings whose voltage is too low go dark.</summary>
public class DropOutTests
{
    private static readonly double Ohms = 2 * 7.98e-3 * 20;

    [Fact]
    public void Of_two_alike_only_the_far_one_goes_dark()
    {
        var readings = Some.Readings(Line(10.6), Some.Bare);
        Assert.Equal([20, 0], readings.Fittings.Select(f => f.Watts));
        var volts = (12 + Math.Sqrt((12 * 12) - (4 * 20 * Ohms))) / 2;
        Assert.Equal(volts, readings.Fittings[0].VoltsDc.Best, 1e-9);
        Assert.Equal(volts, readings.Fittings[1].VoltsDc.Best, 1e-9);
        var dark = readings.Notes.Single(n => n.Code == NoteCode.FittingBelowLeastVolts);
        Assert.Equal("fittings[1].leastVolts", dark.Field);
    }

    /// <summary>Dark, it gets more than its least voltage again.</summary>
    [Fact]
    public void One_that_gets_enough_again_once_dark_may_start_and_stop() => Assert.Contains(
        Some.Readings(Line(10.6), Some.Bare).Notes,
        n => n.Code == NoteCode.FittingStartsAndStops && n.Field == "fittings[1].leastVolts");

    [Fact]
    public void One_may_pull_the_next_with_it()
    {
        // All below at once go dark at once, and stay dark though either alone would have had enough.
        var readings = Some.Readings(Line(10.9), Some.Bare);
        Assert.Equal([0, 0], readings.Fittings.Select(f => f.Watts));
        Assert.All(readings.Nodes, n => Assert.Equal(12, n.VoltsDc.Best, 1e-12));
        Assert.Equal(2, readings.Notes.Count(n => n.Code == NoteCode.FittingStartsAndStops));
    }

    /// <summary>Maximum power transfer: no constant power is drawn steadily below half of the supply.</summary>
    [Fact]
    public void Without_a_recorded_least_voltage_half_of_the_rated_one_is_needed()
    {
        var model = Line(null) with
        {
            Fittings = [new("a", 1), new("b", 120) { Load = LoadKind.Resistive }],
            Runs = [Some.Run("driver", "b", 80), Some.Run("b", "a", 1)],
        };
        // 1.2 Ω behind 1.28 Ω: less than half of 12 V is left.
        var readings = Some.Readings(model, Some.Bare);
        Assert.True(readings.Fittings[0].VoltsDc.Best < 6);
        Assert.Equal(0, readings.Fittings[0].Watts);
    }

    [Theory]
    [InlineData(LoadKind.ConstantCurrent)]
    [InlineData(LoadKind.Resistive)]
    public void Fittings_of_any_kind_go_dark_below_what_they_need(LoadKind kind)
    {
        var model = Line(11.99);
        model = model with { Fittings = [.. model.Fittings.Select(f => f with { Load = kind })] };
        Assert.All(Some.Readings(model, Some.Bare).Fittings, f => Assert.Equal(0, f.Watts));
    }

    private static CircuitModel Line(double? least) => new(
        DriveKind.ConstantVoltage,
        new DriverModel { RatedVolts = 12 },
        [new("a", 20) { LeastVolts = least }, new("b", 20) { LeastVolts = least }],
        [Some.Run("driver", "a", 20), Some.Run("a", "b", 10)]);
}
