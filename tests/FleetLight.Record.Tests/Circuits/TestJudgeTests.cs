using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>Tests against the values of IEC 60364-6, IEC 61008 and IEC 61009.</summary>
public sealed class TestJudgeTests
{
    [Theory]
    [InlineData(2, 500.0, true)]
    [InlineData(2, null, true)]
    [InlineData(2, 250.0, true)]
    [InlineData(2, 100.0, null)]
    [InlineData(0.9, 100.0, false)]
    public void Insulation_is_judged_at_the_voltage_it_was_tested_with(double megohms, double? testVolts, bool? meets) =>
        Assert.Equal(meets, Judge(CircuitFacts.Insulation(megohms, 230, testVolts)));

    [Fact]
    public void Continuity_is_recorded_and_not_judged() => Assert.Null(Judge(CircuitFacts.Continuity()));

    [Theory]
    [InlineData(20, 1.0, null, true)]
    [InlineData(20, null, null, true)]
    [InlineData(310, 1.0, null, false)]
    [InlineData(20, 3.0, null, null)]
    [InlineData(20, 1.0, ResidualCurrentDeviceType.Selective, null)]
    [InlineData(200, 1.0, ResidualCurrentDeviceType.Selective, true)]
    public void Trip_times_are_judged_by_type_and_multiple(
        double milliseconds, double? multiple, ResidualCurrentDeviceType? type, bool? meets) =>
        Assert.Equal(meets, Judge(CircuitFacts.TripTime(milliseconds, multiple, type)));

    [Fact]
    public void Every_judgement_defers_to_licensed_persons() =>
        Assert.Contains(
            "licensed persons", TestJudge.Judge(CircuitFacts.Polarity(), Crew.Start).Says, StringComparison.Ordinal);

    private static bool? Judge(TestMade test) => TestJudge.Judge(test, Crew.Start).Meets;
}
