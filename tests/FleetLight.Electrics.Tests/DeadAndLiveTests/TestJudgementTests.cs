using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.DeadAndLive;

public class TestJudgementTests
{
    /// <summary>
    /// IEC 60364-6 table 6.1: SELV and PELV 250 V, 0.5 MΩ; up to 500 V 500 V, 1 MΩ; above 1000 V, 1 MΩ.
    /// </summary>
    [Theory]
    [InlineData(24, true, 250, 0.5)]
    [InlineData(120, true, 250, 0.5)]
    [InlineData(24, false, 500, 1.0)]
    [InlineData(230, false, 500, 1.0)]
    [InlineData(500, false, 500, 1.0)]
    [InlineData(230, true, 500, 1.0)]
    [InlineData(690, false, 1000, 1.0)]
    public void Insulation_minimum(double volts, bool selv, double test, double least) =>
        Assert.Equal(new InsulationRequirement(test, least), InsulationResistance.For(volts, selv));

    [Theory]
    [InlineData(0)]
    [InlineData(-12)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Insulation_of_an_unknown_voltage_cannot_be_judged(double volts) =>
        Assert.Equal(VerdictKind.CannotBeJudged, InsulationResistance.Judge(volts, true, 5).Kind);

    [Theory]
    [InlineData(0.3, VerdictKind.Outside)]
    [InlineData(0.51, VerdictKind.Doubtful)]
    [InlineData(0.9, VerdictKind.Within)]
    [InlineData(double.PositiveInfinity, VerdictKind.Within)]
    [InlineData(double.NaN, VerdictKind.CannotBeJudged)]
    [InlineData(-1, VerdictKind.CannotBeJudged)]
    public void Insulation_of_an_extra_low_voltage_circuit(double megohms, VerdictKind kind)
    {
        var judged = InsulationResistance.Judge(24, true, megohms);
        Assert.Equal(kind, judged.Kind);
        Assert.Contains("licensed persons", judged.Caution, StringComparison.Ordinal);
        Assert.Equal("IEC 60364-6:2016 table 6.1", judged.Source);
    }

    /// <summary>IET Guidance Note 3: below 2 MΩ look into it although 1 MΩ is the minimum.</summary>
    [Fact]
    public void Mains_insulation_below_2_megohms_is_worth_looking_into() => Assert.Contains(
        "looking into", InsulationResistance.Judge(230, false, 1.5).Text, StringComparison.Ordinal);

    /// <summary>
    /// IEC 61008-1 and IEC 61009-1. At twice the rated current the greatest times are from testers' manuals, and the
    /// least of type S from memory.
    /// </summary>
    [Theory]
    [InlineData(RcdKind.General, 1, 0, 300)]
    [InlineData(RcdKind.General, 2, 0, 150)]
    [InlineData(RcdKind.General, 5, 0, 40)]
    [InlineData(RcdKind.Selective, 1, 130, 500)]
    [InlineData(RcdKind.Selective, 2, 60, 200)]
    [InlineData(RcdKind.Selective, 5, 50, 150)]
    public void Disconnection_times(RcdKind kind, int multiple, double least, double most)
    {
        Assert.Equal((least, most), RcdTime.Permitted(kind, multiple));
        Assert.Equal(VerdictKind.Within, RcdTime.Judge(kind, multiple, most).Kind);
        Assert.Equal(VerdictKind.Outside, RcdTime.Judge(kind, multiple, most + 1).Kind);
        Assert.Equal(VerdictKind.Outside, RcdTime.Judge(kind, multiple, double.PositiveInfinity).Kind);
        if (least > 0) Assert.Equal(VerdictKind.Doubtful, RcdTime.Judge(kind, multiple, least - 1).Kind);
    }

    [Fact]
    public void A_time_that_is_none_cannot_be_judged()
    {
        Assert.Equal(VerdictKind.CannotBeJudged, RcdTime.Judge(RcdKind.General, 1, double.NaN).Kind);
        Assert.Equal(VerdictKind.CannotBeJudged, RcdTime.Judge(RcdKind.General, 1, -3).Kind);
        Assert.Equal(VerdictKind.CannotBeJudged, RcdTime.Judge(RcdKind.General, 3, 10).Kind);
        Assert.Equal(VerdictKind.CannotBeJudged, RcdTime.Judge((RcdKind)9, 1, 10).Kind);
    }

    /// <summary>The resistance of 50 m of 2.5 mm² class 2 by IEC 60228 is 0.3705 Ω.</summary>
    [Theory]
    [InlineData(0.2, VerdictKind.Within)]
    [InlineData(0.37, VerdictKind.Within)]
    [InlineData(1.2, VerdictKind.Doubtful)]
    [InlineData(3, VerdictKind.Outside)]
    [InlineData(double.PositiveInfinity, VerdictKind.Outside)]
    [InlineData(double.NaN, VerdictKind.CannotBeJudged)]
    public void Continuity(double ohms, VerdictKind kind)
    {
        var judged = ContinuityAndPolarity.JudgeContinuity(ohms, 50, 2.5, ConductorClass.Class2);
        Assert.Equal(kind, judged.Kind);
        if (kind != VerdictKind.CannotBeJudged) Assert.Equal(0.3705, judged.Limit!.Value, 1e-9);
    }

    [Fact]
    public void Continuity_of_an_unknown_conductor_cannot_be_judged()
    {
        Assert.Equal(VerdictKind.CannotBeJudged, Judge(1, 2.4).Kind);
        Assert.Equal(VerdictKind.CannotBeJudged, Judge(double.NaN, 2.5).Kind);
        static TestJudgement Judge(double metres, double area) =>
            ContinuityAndPolarity.JudgeContinuity(0.1, metres, area, ConductorClass.Class2);
    }

    [Theory]
    [InlineData(PolarityFinding.AsMarked, VerdictKind.Within)]
    [InlineData(PolarityFinding.Reversed, VerdictKind.Outside)]
    [InlineData(PolarityFinding.NotDetermined, VerdictKind.CannotBeJudged)]
    [InlineData((PolarityFinding)9, VerdictKind.CannotBeJudged)]
    public void Polarity(PolarityFinding finding, VerdictKind kind) =>
        Assert.Equal(kind, ContinuityAndPolarity.JudgePolarity(finding).Kind);
}
