namespace FleetLight.Electrics.Tests.Limits;

public class ExtraLowVoltageTests
{
    /// <summary>IEC 60364-4-41 clause 414.4.5 (30 and 60 V DC) and IEC 61140 (120 V DC).</summary>
    [Theory]
    [InlineData(12, TouchClass.BareWhereWet)]
    [InlineData(30, TouchClass.BareWhereWet)]
    [InlineData(30.1, TouchClass.BareWhereDry)]
    [InlineData(60, TouchClass.BareWhereDry)]
    [InlineData(60.1, TouchClass.NeedsBasicProtection)]
    [InlineData(120, TouchClass.NeedsBasicProtection)]
    [InlineData(120.1, TouchClass.AboveExtraLowVoltage)]
    [InlineData(-24, TouchClass.BareWhereWet)]
    [InlineData(double.NaN, TouchClass.Unknown)]
    [InlineData(double.PositiveInfinity, TouchClass.Unknown)]
    public void Direct_voltage(double volts, TouchClass expected) =>
        Assert.Equal(expected, ExtraLowVoltage.ClassOfDc(volts));

    /// <summary>IEC 60364-4-41 clause 414.4.5 (12 and 25 V AC) and IEC 61140 (50 V AC).</summary>
    [Theory]
    [InlineData(12, TouchClass.BareWhereWet)]
    [InlineData(12.1, TouchClass.BareWhereDry)]
    [InlineData(25, TouchClass.BareWhereDry)]
    [InlineData(25.1, TouchClass.NeedsBasicProtection)]
    [InlineData(50, TouchClass.NeedsBasicProtection)]
    [InlineData(50.1, TouchClass.AboveExtraLowVoltage)]
    public void Alternating_voltage(double volts, TouchClass expected) =>
        Assert.Equal(expected, ExtraLowVoltage.ClassOfAc(volts));

    [Fact]
    public void Class_follows_the_open_circuit_voltage_and_not_the_running_one()
    {
        var driver = new DriverModel { RatedMilliamps = 350, MostVolts = 56, OpenCircuitVolts = 68 };
        var touch = ExtraLowVoltage.Assess(driver);
        Assert.Equal((TouchClass.NeedsBasicProtection, VoltageBasis.OpenCircuitVolts), (touch.Class, touch.Basis));
        Assert.Equal(68, touch.VoltsDc);
    }

    [Fact]
    public void Without_it_the_assessment_says_what_it_rests_on()
    {
        var touch = ExtraLowVoltage.Assess(new DriverModel { RatedMilliamps = 350, MostVolts = 56 });
        Assert.Equal((TouchClass.BareWhereDry, VoltageBasis.MostVolts), (touch.Class, touch.Basis));
        Assert.Contains("record its open-circuit voltage", touch.Text, StringComparison.Ordinal);
        Assert.Equal(VoltageBasis.RatedVolts, ExtraLowVoltage.Assess(new DriverModel { RatedVolts = 24 }).Basis);
        Assert.Equal(TouchClass.Unknown, ExtraLowVoltage.Assess(new DriverModel()).Class);
        Assert.Equal(TouchClass.Unknown, ExtraLowVoltage.Assess(null).Class);
    }
}
