namespace FleetLight.Electrics.Tests.Series;

public class DriverWindowTests
{
    [Fact]
    public void Fittings_that_need_far_more_volts_than_the_driver_has_are_refused()
    {
        var refusal = Refusal(new DriverModel { RatedMilliamps = 350, MostVolts = 9 }, 1.6, 1.6, 1.6);
        Assert.Equal(RefusalReason.BeyondDriver, refusal.Reason);
        Assert.Equal("driver.mostVolts", refusal.Field);
    }

    [Fact]
    public void Fittings_that_need_far_fewer_volts_than_the_driver_regulates_are_refused()
    {
        var refusal = Refusal(new DriverModel { RatedMilliamps = 350, LeastVolts = 18 }, 1.6);
        Assert.Equal(RefusalReason.BelowDriver, refusal.Reason);
    }

    [Fact]
    public void More_watts_than_the_driver_has_are_refused() => Assert.Equal(
        "driver.mostWatts", Refusal(new DriverModel { RatedMilliamps = 350, MostWatts = 4 }, 3.2, 3.2).Field);

    [Theory]
    [InlineData(89.9, false)]
    [InlineData(90.1, true)]
    public void From_90_percent_the_driver_is_near_its_limit(double percent, bool near)
    {
        var model = Some.Series(1.6, 1.6) with
        {
            Driver = new DriverModel { RatedMilliamps = 350, MostVolts = 3.2 / 0.35 * 100 / percent },
        };
        var readings = Some.Readings(model, Some.Bare);
        Assert.Equal(percent, readings.Loading.PercentOfMostVolts!.Value, 1e-9);
        Assert.Equal(near, readings.Notes.Any(n => n.Code == NoteCode.DriverNearLimit));
    }

    [Fact]
    public void A_driver_that_may_sink_below_its_least_volts_is_remarked()
    {
        var model = Some.Series(1.6, 1.6) with { Driver = new DriverModel { RatedMilliamps = 350, LeastVolts = 9 } };
        Assert.Contains(Some.Readings(model).Notes, n => n.Code == NoteCode.DriverNearLeastVolts);
    }

    [Fact]
    public void Headroom_is_what_the_driver_has_left()
    {
        var model = Some.Series(1.6, 1.6) with
        {
            Driver = new DriverModel { RatedMilliamps = 350, MostVolts = 24, MostWatts = 8 },
        };
        var left = DriverHeadroom.Of(model.Driver, Some.Readings(model));
        Assert.Equal(24 - (3.2 / 0.35), left.VoltsDc!.Value, 1e-9);
        Assert.Equal(8 - 3.2, left.Watts!.Value, 1e-9);
        Assert.Null(left.Amps);
    }

    [Fact]
    public void Constant_voltage_headroom_is_in_amps()
    {
        var model = Some.SixNodeTree() with { Driver = new DriverModel { RatedVolts = 12, MostAmps = 5 } };
        var left = DriverHeadroom.Of(model.Driver, Some.Readings(model, Some.Bare));
        Assert.Equal(5 - 2.21667864209, left.Amps!.Value, 1e-8);
        Assert.Null(left.VoltsDc);
    }

    [Fact]
    public void More_amps_than_the_driver_has_are_refused()
    {
        var model = Some.SixNodeTree() with { Driver = new DriverModel { RatedVolts = 12, MostAmps = 1.5 } };
        Assert.Equal("driver.mostAmps", Assert.IsType<CannotExpect>(Expected.Of(model)).Field);
    }

    private static CannotExpect Refusal(DriverModel driver, params double[] watts) =>
        Assert.IsType<CannotExpect>(Expected.Of(Some.Series(watts) with { Driver = driver }));
}
