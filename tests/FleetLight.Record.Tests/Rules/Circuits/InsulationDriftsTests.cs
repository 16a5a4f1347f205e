using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Views;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>
/// Tests of insulation over months. The least value of a circuit of extra-low voltage is 0.5 MΩ, of a 230 V one 1 MΩ (IEC
/// 60364-6:2016 table 6.1).
/// </summary>
public sealed class InsulationDriftsTests
{
    private const string Output = "insulation:output-side";
    private const string Mains = "insulation:mains-side";
    private static readonly double[] Scatter = [1.02, 0.97, 1.01, 0.99, 1.03, 0.98, 1, 1.02, 0.98, 1];

    [Fact]
    public void Insulation_that_falls_is_found_while_it_still_reaches_the_minimum_and_tells_when_it_will_not()
    {
        var job = Tested(Job.Of(CircuitFacts.Designed()), 14, month => 40 * Math.Pow(0.8, month));

        job.FindsNothing(InsulationTooLow.Rule);
        var finding = job.Finds(ReadingDrifts.Rule, Output);

        Assert.StartsWith("Insulation of the output side: It falls slowly", finding.Reason, StringComparison.Ordinal);
        Assert.Equal("crew-a#f15", finding.Evidence[^1]);
        var drift = Assert.Single(job.Circuit.Drift!);
        Assert.Equal((MeasuredAs.MegohmsInsulation, false, ReadingTrend.SlowChange), (drift.Quantity, drift.MainsSide, drift.Trend));
        // 0.8 in 30 days is 0.8^(365.25/30) = 0.066 in a year.
        Assert.Equal(0.066, drift.Rate!.PerYear, 0.01);
        Assert.Equal(0.5, drift.Crossing!.Limit);
        // From 40 × 0.8^13 = 2.2 MΩ to 0.5 MΩ it takes ln 4.4 / ln 1.25 = 6.6 times 30 days.
        var last = Crew.Start.AddDays(14 * 30);
        Assert.InRange((drift.Crossing.Likely!.Value - last).TotalDays, 6.6 * 30 - 20, 6.6 * 30 + 20);
        Assert.True(drift.AsksForVisit);
    }

    [Fact]
    public void Steady_insulation_is_told_and_nothing_is_found()
    {
        var job = Tested(Job.Of(CircuitFacts.Designed()), 14, _ => 40).FindsNothing(ReadingDrifts.Rule);

        Assert.Equal(ReadingTrend.Steady, Assert.Single(job.Circuit.Drift!).Trend);
    }

    [Fact]
    public void Each_side_is_looked_at_by_itself_and_held_against_its_own_minimum()
    {
        var job = Job.Of(CircuitFacts.Designed());
        for (var month = 0; month < 14; month++)
        {
            job.Waits(24 * 30).Tells(
                CircuitFacts.Insulation(Math.Round(40 * Scatter[month % 10], 1), nominal: 24, testVolts: 250, mainsSide: false),
                CircuitFacts.Insulation(Math.Round(40 * Math.Pow(0.8, month) * Scatter[month % 10], 2)));
        }

        job.Finds(ReadingDrifts.Rule, Mains);

        Assert.Equal([(false, ReadingTrend.Steady), (true, ReadingTrend.SlowChange)], job.Circuit.Drift!.Select(drift => (drift.MainsSide!.Value, drift.Trend)));
        Assert.Equal(1, job.Circuit.Drift![1].Crossing!.Limit);
    }

    [Fact]
    public void Of_few_tests_nothing_is_said() =>
        Assert.Null(Tested(Job.Of(CircuitFacts.Designed()), 5, month => 40 * Math.Pow(0.8, month)).Circuit.Drift);

    [Fact]
    public void No_design_is_needed() =>
        Tested(Job.Of(CircuitFacts.Connected()), 14, month => 40 * Math.Pow(0.8, month)).Finds(ReadingDrifts.Rule, Output);

    [Fact]
    public void It_clears_with_the_first_test_after_a_repair_that_helped()
    {
        var job = Tested(Job.Of(CircuitFacts.Designed()), 14, month => 40 * Math.Pow(0.8, month));

        job.Tells(CircuitFacts.Repair());
        Tested(job, 1, _ => 60).FindsNothing(ReadingDrifts.Rule);
    }

    [Fact]
    public void Meters_are_told_apart_by_their_names()
    {
        var unnamed = Read((null, null));
        var named = Read(("meter 3", "meter 7"));
        var oneMeter = Read(("meter 3", " METER 3"));

        Assert.Equal(ReadingTrend.UnexplainedStep, unnamed);
        Assert.Equal(ReadingTrend.UnexplainedStep, oneMeter);
        Assert.NotEqual(ReadingTrend.UnexplainedStep, named);
    }

    // From the eighth month on the crew reads 1.5 % more.
    private static ReadingTrend Read((string? First, string? Second) meters)
    {
        var job = Job.Of(CircuitFacts.Designed());
        for (var month = 0; month < 16; month++)
        {
            var volts = month < 8 ? 9.1 : 9.1 * 1.015;
            var reading = CircuitFacts.Reading(Math.Round(volts + (0.5 * (Scatter[month % 10] - 1)), 2));
            job.Waits(24 * 30).Tells(reading with { MeterName = month < 8 ? meters.First : meters.Second });
        }

        return Assert.Single(job.Circuit.Drift!).Trend;
    }

    private static Job Tested(Job job, int months, Func<int, double> megohms)
    {
        for (var month = 0; month < months; month++)
        {
            job.Waits(24 * 30).Tells(CircuitFacts.Insulation(
                Math.Round(megohms(month) * Scatter[month % 10], 2), nominal: 24, testVolts: 250, mainsSide: false));
        }

        return job;
    }
}
