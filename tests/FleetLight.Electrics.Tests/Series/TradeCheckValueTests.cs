namespace FleetLight.Electrics.Tests.Series;

/// <summary>Rules of thumb of the trade: common practice, no source.</summary>
public class TradeCheckValueTests
{
    [Fact]
    public void Two_fittings_of_1_6_W_at_350_mA_read_about_9_V() =>
        Assert.InRange(Some.Readings(Some.Series(1.6, 1.6)).DriverVoltsDc.Best, 8.9, 9.3);

    [Fact]
    public void Fittings_of_4_2_W_at_350_mA_read_about_12_V() =>
        Assert.Equal(12, Some.Readings(Some.Series(1.6, 2.6)).DriverVoltsDc.Best, 6);

    [Theory]
    [InlineData(11.85)]
    [InlineData(11.86)]
    [InlineData(11.87)]
    public void A_reading_close_to_12_V_is_within_for_4_2_W_and_outside_for_3_2_W(double volts)
    {
        var reading = Some.DriverVolts(volts);
        Assert.Equal(VerdictKind.Within, Verdicts.Judge(Expected.Of(Some.Series(1.6, 2.6)), reading).Kind);
        Assert.Equal(VerdictKind.Outside, Verdicts.Judge(Expected.Of(Some.Series(1.6, 1.6)), reading).Kind);
    }
}
