using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.DeadAndLive;

public class MainsSideTests
{
    /// <summary>
    /// IEC 60364-4-41:2005 table 41.1, alternating voltage: TN 0.8, 0.4, 0.2, 0.1 s and TT 0.3, 0.2, 0.07, 0.04 s;
    /// clause 411.3.2: distribution circuits 5 s and 1 s.
    /// </summary>
    [Theory]
    [InlineData(EarthingSystem.Tn, 120, true, 0.8)]
    [InlineData(EarthingSystem.Tn, 230, true, 0.4)]
    [InlineData(EarthingSystem.Tn, 277, true, 0.2)]
    [InlineData(EarthingSystem.Tn, 400, true, 0.2)]
    [InlineData(EarthingSystem.Tn, 690, true, 0.1)]
    [InlineData(EarthingSystem.Tt, 100, true, 0.3)]
    [InlineData(EarthingSystem.Tt, 230, true, 0.2)]
    [InlineData(EarthingSystem.Tt, 400, true, 0.07)]
    [InlineData(EarthingSystem.Tt, 500, true, 0.04)]
    [InlineData(EarthingSystem.Tn, 230, false, 5)]
    [InlineData(EarthingSystem.Tt, 230, false, 1)]
    public void Table_41_1(EarthingSystem system, double volts, bool final, double seconds)
    {
        Assert.Equal(seconds, DisconnectionTime.MostSeconds(system, volts, final));
        Assert.Equal(VerdictKind.Within, DisconnectionTime.Judge(system, volts, 1000 * seconds, final).Kind);
        var slow = DisconnectionTime.Judge(system, volts, (1000 * seconds) + 1, final);
        Assert.Equal((VerdictKind.Outside, 1000 * seconds), (slow.Kind, slow.Limit));
        Assert.Contains("2005", slow.Source, StringComparison.Ordinal);
        Assert.Contains("licensed persons", slow.Caution, StringComparison.Ordinal);
    }

    [Fact]
    public void Times_of_what_is_not_tabulated_cannot_be_judged()
    {
        Assert.Null(DisconnectionTime.MostSeconds(EarthingSystem.Tn, 50));
        Assert.Null(DisconnectionTime.MostSeconds(EarthingSystem.Tn, 1001));
        Assert.Null(DisconnectionTime.MostSeconds((EarthingSystem)4, 230));
        Assert.Equal(VerdictKind.CannotBeJudged, DisconnectionTime.Judge(EarthingSystem.Tn, double.NaN, 20).Kind);
        Assert.Equal(VerdictKind.CannotBeJudged, DisconnectionTime.Judge(EarthingSystem.Tn, 230, double.NaN).Kind);
        Assert.Equal(
            VerdictKind.Outside, DisconnectionTime.Judge(EarthingSystem.Tn, 230, double.PositiveInfinity).Kind);
    }

    /// <summary>
    /// A device that just meets its product standard at its rated current is fast enough for TN at 230 V.
    /// </summary>
    [Fact]
    public void Product_times_lie_within_those_of_the_installation()
    {
        var (_, most) = RcdTime.Permitted(RcdKind.General, 1)!.Value;
        Assert.Equal(VerdictKind.Within, DisconnectionTime.Judge(EarthingSystem.Tn, 230, most).Kind);
        var (_, five) = RcdTime.Permitted(RcdKind.General, 5)!.Value;
        Assert.Equal(VerdictKind.Within, DisconnectionTime.Judge(EarthingSystem.Tt, 690, five).Kind);
    }

    /// <summary>IEC 61008-1: at half its rated residual current a device must hold.</summary>
    [Theory]
    [InlineData(false, VerdictKind.Within)]
    [InlineData(true, VerdictKind.Outside)]
    [InlineData(null, VerdictKind.CannotBeJudged)]
    public void At_half_the_rated_current(bool? disconnected, VerdictKind kind) =>
        Assert.Equal(kind, RcdTime.JudgeAtHalf(disconnected).Kind);

    /// <summary>
    /// IEC 60364-6:2016 clause 6.4.3.4: between SELV and mains live parts the test voltage of the mains, 500 V DC up to
    /// 500 V and 1000 V above; 1 MΩ by table 6.1.
    /// </summary>
    [Theory]
    [InlineData(230, 500)]
    [InlineData(690, 1000)]
    public void Between_extra_low_voltage_and_mains(double mains, double test)
    {
        var asked = InsulationResistance.BetweenExtraLowVoltageAndMains(mains)!;
        Assert.Equal((test, 1.0), (asked.TestVoltsDc, asked.LeastMegohms));
        Assert.Equal(VerdictKind.Outside, InsulationResistance.JudgeSeparation(mains, 0.9).Kind);
        var good = InsulationResistance.JudgeSeparation(mains, 20);
        Assert.Equal((VerdictKind.Within, asked.Source), (good.Kind, good.Source));
        Assert.Equal(VerdictKind.CannotBeJudged, InsulationResistance.JudgeSeparation(0, 20).Kind);
    }

    /// <summary>
    /// IEC 60228 class 2: 2.5 mm² (7.41 Ω/km) and 1.5 mm² (12.1 Ω/km) over 30 m are 0.2223 + 0.363 = 0.5853 Ω at 20 °C.
    /// </summary>
    [Theory]
    [InlineData(0.5, VerdictKind.Within)]
    [InlineData(0.585, VerdictKind.Within)]
    [InlineData(1.4, VerdictKind.Doubtful)]
    [InlineData(3, VerdictKind.Outside)]
    [InlineData(double.PositiveInfinity, VerdictKind.Outside)]
    [InlineData(-1, VerdictKind.CannotBeJudged)]
    public void Line_and_protective_conductor_in_series(double ohms, VerdictKind kind)
    {
        var judged = ContinuityAndPolarity.JudgeLineAndProtective(ohms, 30, 2.5, 1.5, ConductorClass.Class2);
        Assert.Equal(kind, judged.Kind);
        if (kind != VerdictKind.CannotBeJudged) Assert.Equal(0.5853, judged.Limit!.Value, 1e-9);
    }

    [Fact]
    public void Far_too_little_resistance_is_said()
    {
        var meter = new MeterAccuracy(1, 2, 0.01);
        var low = ContinuityAndPolarity.JudgeContinuity(0.2, 50, 2.5, ConductorClass.Class2, 20, meter);
        Assert.Equal(VerdictKind.Within, low.Kind);
        Assert.Contains("in parallel", low.Text, StringComparison.Ordinal);
        // 7 % below the maximum is a sound conductor (IEC 60028 beside IEC 60228).
        var sound = ContinuityAndPolarity.JudgeContinuity(0.345, 50, 2.5, ConductorClass.Class2, 20, meter);
        Assert.DoesNotContain("parallel", sound.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_unknown_conductor_has_no_resistance()
    {
        Assert.Null(ContinuityAndPolarity.MostOhms(10, 1.6, ConductorClass.Class2));
        Assert.Null(ContinuityAndPolarity.MostOhms(double.NaN, 1.5, ConductorClass.Class2));
        Assert.Null(ContinuityAndPolarity.MostOhms(10, 1.5, ConductorClass.Class2, 151));
        Assert.Equal(
            VerdictKind.CannotBeJudged,
            ContinuityAndPolarity.JudgeLineAndProtective(0.2, 10, 1.5, 1.6, ConductorClass.Class2).Kind);
    }
}
