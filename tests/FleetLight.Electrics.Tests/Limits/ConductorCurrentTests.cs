using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Limits;

public class ConductorCurrentTests
{
    /// <summary>
    /// IEC 60364-5-52:2009 table B.52.2, two loaded conductors, PVC: reference method D1 (duct in the ground) and C
    /// (clipped). The rows to 1 mm² are of ABNT NBR 5410:2004 table 36.
    /// </summary>
    [Theory]
    [InlineData(0.5, 12, 10)]
    [InlineData(0.75, 15, 13)]
    [InlineData(1.0, 18, 15)]
    [InlineData(1.5, 22, 19.5)]
    [InlineData(2.5, 29, 27)]
    [InlineData(4, 37, 36)]
    [InlineData(6, 46, 46)]
    [InlineData(10, 60, 63)]
    [InlineData(16, 78, 85)]
    public void Current_carrying_capacity(double area, double inDuct, double clipped)
    {
        Assert.Equal(inDuct, ConductorCurrent.Rating(area, RunSurroundings.Buried)!.Amps);
        Assert.Equal(clipped, ConductorCurrent.Rating(area, RunSurroundings.InAir)!.Amps);
        Assert.Equal(0.71 * clipped, ConductorCurrent.Rating(area, RunSurroundings.WarmBox)!.Amps, 1e-12);
        Assert.Contains(
            area < 1.5 ? "NBR 5410" : "B.52.2", ConductorCurrent.Rating(area, RunSurroundings.Buried)!.Source,
            StringComparison.Ordinal);
    }

    /// <summary>
    /// The factor for 50 °C in table B.52.14 is √((70 − 50) / (70 − 30)), the rise being in proportion to I².
    /// </summary>
    [Fact]
    public void The_factor_for_a_warm_box_is_that_of_the_rise() =>
        Assert.Equal(ConductorCurrent.WarmBoxFactor, Math.Sqrt(20.0 / 40), 0.005);

    /// <summary>
    /// The estimate returns the table's 70 °C at the table's current, and a tenth of the current a hundredth of the
    /// rise. 0.7 A in 1 mm² (18 A): 50·(0.7/18)² = 0.076 K.
    /// </summary>
    [Fact]
    public void Self_heating_estimate()
    {
        Assert.Equal(50, ConductorCurrent.SelfHeatingKelvin(1.5, RunSurroundings.Buried, 22)!.Value, 1e-9);
        Assert.Equal(0.4, ConductorCurrent.SelfHeatingKelvin(1.5, RunSurroundings.InAir, 1.95)!.Value, 1e-9);
        Assert.Equal(0.076, ConductorCurrent.SelfHeatingKelvin(1, RunSurroundings.Buried, 0.7)!.Value, 0.001);
        // Air of 50 °C and 27 A × 0.71 rated: half of that rises by a quarter of 20 K.
        Assert.Equal(5, ConductorCurrent.SelfHeatingKelvin(2.5, RunSurroundings.WarmBox, 0.5 * 0.71 * 27)!.Value, 1e-9);
    }

    [Fact]
    public void Nonsense_has_no_figure()
    {
        Assert.Null(ConductorCurrent.Rating(1.25, RunSurroundings.Buried));
        Assert.Null(ConductorCurrent.Rating(double.NaN, RunSurroundings.Buried));
        Assert.Null(ConductorCurrent.SelfHeatingKelvin(1.5, RunSurroundings.Buried, -1));
        Assert.Null(ConductorCurrent.SelfHeatingKelvin(1.5, RunSurroundings.Buried, double.PositiveInfinity));
        Assert.Equal(22, ConductorCurrent.Rating(1.5, (RunSurroundings)9)!.Amps);
    }
}
