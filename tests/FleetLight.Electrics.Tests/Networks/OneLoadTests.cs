namespace FleetLight.Electrics.Tests.Networks;

/// <summary>
/// One constant-power load behind one resistance: V² − V0·V + P·R = 0, feasible up to V0²/(4R) (maximum power transfer,
/// textbook algebra). 12 V and 0.5 Ω carry 72 W at most; the roots agree with an independent circuit simulator.
/// </summary>
public class OneLoadTests
{
    // 0.5 Ω with the 13.3 Ω/km of 1.5 mm² class 5, out and back.
    private const double Metres = 500 / 26.6;

    [Theory]
    [InlineData(20, 11.0990195136)]
    [InlineData(71.9, 6.2236067977)]
    public void The_higher_of_the_two_voltages_is_found(double watts, double volts) =>
        Assert.Equal(volts, Some.Readings(Behind(watts), Some.Bare).Fittings[0].VoltsDc.Best, 1e-8);

    [Theory]
    [InlineData(73)]
    [InlineData(500)]
    [InlineData(10_000)]
    public void Beyond_72_W_the_voltage_collapses_and_the_refusal_says_how_much_is_possible(double watts)
    {
        var refusal = Assert.IsType<CannotExpect>(Expected.Of(Behind(watts), Some.Bare));
        Assert.Equal(RefusalReason.VoltageCollapse, refusal.Reason);
        Assert.Equal(72, refusal.GreatestWatts!.Value, 1e-3);
    }

    [Fact]
    public void A_large_drop_is_remarked()
    {
        var notes = Some.Readings(Behind(60), Some.Bare).Notes;
        Assert.Contains(notes, n => n.Code == NoteCode.CloseToCollapse);
    }

    [Fact]
    public void A_fitting_below_its_least_volts_is_remarked()
    {
        var model = Behind(20);
        model = model with { Fittings = [model.Fittings[0] with { LeastVolts = 11.5 }] };
        Assert.Contains(Some.Readings(model, Some.Bare).Notes, n => n.Code == NoteCode.FittingBelowLeastVolts);
    }

    private static CircuitModel Behind(double watts) => Some.SixNodeTree() with
    {
        Fittings = [new("n1", watts)],
        Runs = [Some.Run("driver", "n1", Metres, 1.5)],
    };
}
