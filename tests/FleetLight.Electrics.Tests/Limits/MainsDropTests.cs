namespace FleetLight.Electrics.Tests.Limits;

public class MainsDropTests
{
    /// <summary>
    /// IEC 60364-5-52 table G.52.1: 3 and 5 % from a public supply, 6 and 8 % from a private one; 0.005 % for each
    /// metre beyond 100 m, 0.5 % at most.
    /// </summary>
    [Theory]
    [InlineData(SupplyOwner.Public, CircuitUse.Lighting, 0, 3)]
    [InlineData(SupplyOwner.Public, CircuitUse.Lighting, 100, 3)]
    [InlineData(SupplyOwner.Public, CircuitUse.Lighting, 150, 3.25)]
    [InlineData(SupplyOwner.Public, CircuitUse.Lighting, 200, 3.5)]
    [InlineData(SupplyOwner.Public, CircuitUse.Lighting, 900, 3.5)]
    [InlineData(SupplyOwner.Public, CircuitUse.Other, 50, 5)]
    [InlineData(SupplyOwner.Private, CircuitUse.Lighting, 50, 6)]
    [InlineData(SupplyOwner.Private, CircuitUse.Other, 120, 8.1)]
    public void Table_G_52_1(SupplyOwner supply, CircuitUse use, double metres, double percent) =>
        Assert.Equal(percent, VoltageDrop.MostPercent(supply, use, metres)!.Value, 1e-12);

    [Fact]
    public void Nonsense_has_no_limit()
    {
        Assert.Null(VoltageDrop.MostPercent(SupplyOwner.Public, CircuitUse.Lighting, -1));
        Assert.Null(VoltageDrop.MostPercent(SupplyOwner.Public, CircuitUse.Lighting, double.NaN));
        Assert.Null(VoltageDrop.MostPercent((SupplyOwner)7, CircuitUse.Lighting, 10));
    }

    /// <summary>
    /// IEC 61558-1: ripple of at most 10 % r.m.s., and peaks of at most 140 V at 120 V and 70 V at 60 V nominal.
    /// </summary>
    [Theory]
    [InlineData(120, 12, 140.0, true)]
    [InlineData(120, 12.1, 140.0, false)]
    [InlineData(120, 5, 140.1, false)]
    [InlineData(60, 6, 70.0, true)]
    [InlineData(60, 1, 70.1, false)]
    [InlineData(24, 2.4, null, true)]
    [InlineData(24, 2.5, null, false)]
    public void Ripple_free(double volts, double ripple, double? peak, bool free) =>
        Assert.Equal(free, ExtraLowVoltage.IsRippleFree(volts, ripple, peak));

    [Fact]
    public void The_published_peaks_are_in_one_proportion()
    {
        Assert.Equal(
            ExtraLowVoltage.MostPeakAt120Volts / ExtraLowVoltage.MostVoltsDc,
            ExtraLowVoltage.MostPeakAt60Volts / ExtraLowVoltage.BareDryVoltsDc, 1e-12);
        Assert.Null(ExtraLowVoltage.IsRippleFree(0, 1));
        Assert.Null(ExtraLowVoltage.IsRippleFree(24, double.NaN));
        Assert.Null(ExtraLowVoltage.IsRippleFree(24, 1, -3));
    }
}
