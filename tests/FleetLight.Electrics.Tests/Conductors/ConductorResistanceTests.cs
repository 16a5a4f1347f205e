using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Conductors;

public class ConductorResistanceTests
{
    /// <summary>IEC 60228:2004 tables 1, 2 and 3, plain copper; the 16 mm² row is from memory.</summary>
    [Theory]
    [InlineData(0.5, 36.0, 39.0)]
    [InlineData(0.75, 24.5, 26.0)]
    [InlineData(1.0, 18.1, 19.5)]
    [InlineData(1.5, 12.1, 13.3)]
    [InlineData(2.5, 7.41, 7.98)]
    [InlineData(4, 4.61, 4.95)]
    [InlineData(6, 3.08, 3.30)]
    [InlineData(10, 1.83, 1.91)]
    [InlineData(16, 1.15, 1.21)]
    public void Greatest_resistance_is_that_of_IEC_60228(double area, double solid, double flexible)
    {
        Assert.Equal(solid, At20(ConductorClass.Class1, area));
        Assert.Equal(solid, At20(ConductorClass.Class2, area));
        Assert.Equal(flexible, At20(ConductorClass.Class5, area));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.6)]
    [InlineData(1.25)]
    [InlineData(25)]
    [InlineData(-1.5)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Nothing_is_interpolated(double area) =>
        Assert.False(ConductorResistance.TryOhmsPerKilometreAt20(ConductorClass.Class1, area, out _));

    [Fact]
    public void An_unknown_class_has_no_resistance() =>
        Assert.False(ConductorResistance.TryOhmsPerKilometreAt20((ConductorClass)9, 1.5, out _));

    /// <summary>
    /// IEC 60228 Annex B, correction to 20 °C. The table follows 0.004 per kelvin, this library the 0.00393 of IEC
    /// 60028; they agree to 0.4 %.
    /// </summary>
    [Theory]
    [InlineData(5, 1.064)]
    [InlineData(10, 1.042)]
    [InlineData(15, 1.020)]
    [InlineData(20, 1.000)]
    [InlineData(25, 0.980)]
    [InlineData(30, 0.962)]
    [InlineData(40, 0.926)]
    [InlineData(50, 0.893)]
    [InlineData(60, 0.862)]
    [InlineData(70, 0.833)]
    public void Correction_to_20_degrees_is_that_of_IEC_60228_annex_B(double celsius, double factor) =>
        Assert.Equal(factor, ConductorResistance.At20(1, celsius)!.Value, 0.004 * factor);

    /// <summary>
    /// IEC 60028 by two forms of its formula: 1 + 0.00393 (t − 20), and (234.5 + t) / 254.5, which is rounded.
    /// </summary>
    [Theory]
    [InlineData(0, 0.92140)]
    [InlineData(5, 0.94105)]
    [InlineData(15, 0.98035)]
    [InlineData(30, 1.0393)]
    [InlineData(50, 1.1179)]
    [InlineData(70, 1.1965)]
    public void Resistance_at_a_temperature_is_that_of_IEC_60028(double celsius, double ratio)
    {
        Assert.Equal(ratio, ConductorResistance.AtTemperature(1, celsius), 1e-9);
        Assert.Equal((234.5 + celsius) / 254.5, ConductorResistance.AtTemperature(1, celsius), 1e-4);
    }

    [Theory]
    [InlineData(-61)]
    [InlineData(151)]
    [InlineData(double.NaN)]
    public void A_temperature_out_of_range_gives_no_figure(double celsius) =>
        Assert.Null(ConductorResistance.At20(1, celsius));

    /// <summary>Worked example of the IEC 60028 formula: 0.1 Ω at 20 °C is 0.11179 Ω at 50 °C.</summary>
    [Fact]
    public void Worked_example_of_IEC_60028() =>
        Assert.Equal(0.11179, ConductorResistance.AtTemperature(0.1, 50), 5e-6);

    /// <summary>BS 7671 table 4D1B, mV/A/m at 70 °C, direct current; the table is rounded to two figures.</summary>
    [Theory]
    [InlineData(1.0, 44)]
    [InlineData(1.5, 29)]
    [InlineData(2.5, 18)]
    [InlineData(4, 11)]
    [InlineData(6, 7.3)]
    [InlineData(10, 4.4)]
    public void Drop_at_70_degrees_is_that_of_BS_7671_table_4D1B(double area, double millivolts) =>
        Assert.Equal(millivolts, DropAt70(ConductorClass.Class2, area), 0.02 * millivolts);

    /// <summary>
    /// BS 7671 table 4F3B, flexible cables, mV/A/m. The table is headed 60 °C but its figures are those of 70 °C,
    /// which is what is tested.
    /// </summary>
    [Theory]
    [InlineData(0.5, 93)]
    [InlineData(0.75, 62)]
    [InlineData(1, 46)]
    [InlineData(1.5, 32)]
    [InlineData(2.5, 19)]
    [InlineData(4, 12)]
    public void Drop_of_flexible_cables_is_that_of_BS_7671_table_4F3B(double area, double millivolts) =>
        Assert.Equal(millivolts, DropAt70(ConductorClass.Class5, area), 0.02 * millivolts);

    /// <summary>IEC 60364-5-52 Annex G with ρ1 = 0.0225 Ω·mm²/m: computed mV/A/m.</summary>
    [Theory]
    [InlineData(1.0, 45.0)]
    [InlineData(1.5, 30.0)]
    [InlineData(2.5, 18.0)]
    [InlineData(4, 11.25)]
    [InlineData(6, 7.5)]
    [InlineData(10, 4.5)]
    public void Drop_by_IEC_60364_5_52_annex_G(double area, double millivolts) =>
        Assert.Equal(millivolts / 1000, VoltageDrop.AnnexGVolts(1, area, 1)!.Value, 1e-9);

    [Fact]
    public void Drop_refuses_what_is_out_of_range()
    {
        Assert.Null(VoltageDrop.AnnexGVolts(-1, 1, 1));
        Assert.Null(VoltageDrop.AnnexGVolts(1, 0, 1));
        Assert.Null(VoltageDrop.AnnexGVolts(double.NaN, 1, 1));
        Assert.Null(VoltageDrop.MillivoltsPerAmpereMetre(ConductorClass.Class1, 1.5, double.NaN));
        Assert.Null(VoltageDrop.MillivoltsPerAmpereMetre(ConductorClass.Class1, 1.6, 20));
    }

    /// <summary>
    /// A conductor of the nominal area in standard annealed copper (IEC 60028) lies 7 % below the maximum of IEC
    /// 60228 for 2.5 mm² class 1: the default span of a sound conductor.
    /// </summary>
    [Fact]
    public void The_assumed_span_below_the_maximum_reaches_annealed_copper()
    {
        var annealed = 1000 * ConductorResistance.CopperResistivityOhmSquareMillimetresPerMetre / 2.5;
        var below = 100 * (1 - (annealed / At20(ConductorClass.Class1, 2.5)));
        Assert.Equal(Assumptions.Default.ConductorBelowMaximumPercent, below, 0.1);
    }

    private static double DropAt70(ConductorClass kind, double area) =>
        VoltageDrop.MillivoltsPerAmpereMetre(kind, area, 70)!.Value;

    private static double At20(ConductorClass kind, double area)
    {
        Assert.True(ConductorResistance.TryOhmsPerKilometreAt20(kind, area, out var ohms));
        return ohms;
    }
}
