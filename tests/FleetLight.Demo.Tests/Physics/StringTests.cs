using FleetLight.Demo.Physics;

namespace FleetLight.Demo.Tests.Physics;

/// <summary>Constant-current strings against values of common practice (no source) and against simple arithmetic.</summary>
public sealed class StringTests
{
    private const double Rated = 0.35;

    [Fact]
    public void Two_fittings_of_1_6_W_at_350_mA_read_about_9_V() =>
        Assert.Equal(9.1, Volts(1.6, 1.6), 0.1);

    [Fact]
    public void Fittings_of_4_2_W_in_all_at_350_mA_read_about_12_V() =>
        Assert.Equal(12.0, Volts(1.6, 2.6), 0.1);

    [Fact]
    public void Cable_adds_current_times_resistance() =>
        Assert.Equal(Volts(1.6, 1.6) + (Rated * 2), Solve([1.6, 1.6], ohms: 2).Volts, 1e-9);

    [Fact]
    public void Cold_fittings_read_higher()
    {
        var warm = new LedFitting(1.6, Rated).Volts(Rated, 20);
        var cold = new LedFitting(1.6, Rated).Volts(Rated, 0);
        // −3 mV/K on 2.95 V (Khanna, Fundamentals of Solid-State Lighting, 2014, eq. 14.1): 2 % over 20 K.
        Assert.Equal(1.0203, cold / warm, 0.001);
    }

    [Fact]
    public void A_reversed_fitting_leaves_the_open_output_and_no_current() =>
        Assert.Equal((30, 0), Solve([1.6, 1.6], open: true));

    [Fact]
    public void Beyond_its_greatest_volts_the_driver_holds_them_and_the_current_falls()
    {
        var (volts, amps) = new SeriesString(Rated, MostVolts: 8.8, OpenVolts: 12).Solve([new(1.6, Rated), new(1.6, Rated)], 0, 20, open: false);
        Assert.Equal(8.8, volts, 1e-9);
        Assert.InRange(amps, 0.1, 0.3);
        Assert.Equal(8.8, 2 * new LedFitting(1.6, Rated).Volts(amps, 20), 1e-6);
    }

    private static double Volts(params double[] watts) => Solve(watts).Volts;

    private static (double Volts, double Amps) Solve(double[] watts, double ohms = 0, bool open = false) =>
        new SeriesString(Rated, MostVolts: 26, OpenVolts: 30).Solve([.. watts.Select(each => new LedFitting(each, Rated))], ohms, 20, open);
}
