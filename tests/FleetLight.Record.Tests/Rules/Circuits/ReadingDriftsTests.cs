using FleetLight.Contracts;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>
/// The circuit should read about 9.1 V; a reading is outside from about 0.8 V off on. The figures: common practice, no
/// source.
/// </summary>
public sealed class ReadingDriftsTests
{
    private const string Driver = "driver:volts-dc";
    private static readonly double[] Scatter = [0.01, -0.02, 0.02, 0, -0.01, 0.01, -0.01, 0.02, -0.02, 0];

    [Fact]
    public void A_slow_change_is_found_before_a_reading_is_outside_and_tells_when()
    {
        var job = Read(Job.Of(CircuitFacts.Designed()), 14, month => 9.1 + (0.035 * month));

        job.FindsNothing(ReadingOutside.Rule);
        var finding = job.Finds(ReadingDrifts.Rule, Driver);

        Assert.StartsWith("At the driver: It rises slowly", finding.Reason, StringComparison.Ordinal);
        Assert.Equal(8, finding.Evidence.Count);
        Assert.Equal("crew-a#f15", finding.Evidence[^1]);
        var drift = Assert.Single(job.Circuit.Drift!);
        Assert.Equal((ReadingTrend.SlowChange, 14, true), (drift.Trend, drift.Visits, drift.AsksForVisit));
        Assert.Equal(0.42, drift.Rate!.PerYear, 0.05);
        Assert.True(drift.Crossing!.Earliest <= drift.Crossing.Likely && drift.Crossing.Likely <= drift.Crossing.Latest);
        Assert.Equal(drift.Crossing.Earliest!.Value.AddDays(-60), drift.VisitBy);
        Assert.True(drift.Crossing.Likely > Crew.Start.AddDays(14 * 30));
    }

    [Fact]
    public void Steady_readings_are_told_and_nothing_is_found()
    {
        var job = Read(Job.Of(CircuitFacts.Designed()), 14, _ => 9.1).FindsNothing(ReadingDrifts.Rule);

        Assert.Equal(ReadingTrend.Steady, Assert.Single(job.Circuit.Drift!).Trend);
    }

    [Fact]
    public void Of_few_visits_nothing_is_said()
    {
        var job = Read(Job.Of(CircuitFacts.Designed()), 5, month => 9.1 + (0.1 * month)).FindsNothing(ReadingDrifts.Rule);

        Assert.Null(job.Circuit.Drift);
    }

    [Fact]
    public void A_step_without_work_is_found_and_one_with_work_is_not()
    {
        var stepped = Read(Job.Of(CircuitFacts.Designed()), 16, month => month < 8 ? 9.1 : 9.4);
        Assert.Contains("no recorded work", stepped.Finds(ReadingDrifts.Rule, Driver).Reason, StringComparison.Ordinal);

        var worked = Read(Job.Of(CircuitFacts.Designed()), 8, _ => 9.1);
        worked.Tells(CircuitFacts.Repair());
        Read(worked, 8, _ => 9.4).FindsNothing(ReadingDrifts.Rule);
    }

    [Fact]
    public void It_clears_with_the_first_reading_after_a_repair_that_helped()
    {
        var job = Read(Job.Of(CircuitFacts.Designed()), 14, month => 9.1 + (0.035 * month));
        job.Tells(CircuitFacts.Repair()).Finds(ReadingDrifts.Rule, Driver);

        Read(job, 1, _ => 9.1).FindsNothing(ReadingDrifts.Rule);
        Assert.Equal(ReadingTrend.CannotTell, Assert.Single(job.Circuit.Drift!).Trend);
        Assert.Contains("Joint remade.", job.Circuit.Drift![0].Says, StringComparison.Ordinal);
    }

    [Fact]
    public void It_stays_after_a_repair_that_did_not_help()
    {
        var job = Read(Job.Of(CircuitFacts.Designed()), 14, month => 9.1 + (0.035 * month));
        job.Tells(CircuitFacts.Repair());

        Read(job, 2, month => 9.1 + (0.035 * (14 + month))).Finds(ReadingDrifts.Rule, Driver);
    }

    [Fact]
    public void Withdrawing_what_shows_it_clears_it()
    {
        var job = Read(Job.Of(CircuitFacts.Designed()), 14, _ => 9.1);
        var wrong = new List<RecordedFact>();
        for (var month = 0; month < 3; month++) wrong.Add(job.Waits(24 * 30).TellsOne(CircuitFacts.Reading(9.45)));
        job.Finds(ReadingDrifts.Rule, Driver);

        foreach (var fact in wrong) job.Tells(Facts.Withdrawn(fact));

        job.FindsNothing(ReadingDrifts.Rule);
        Assert.Equal(14, Assert.Single(job.Circuit.Drift!).Visits);
    }

    [Fact]
    public void Readings_from_before_a_change_of_the_design_do_not_count()
    {
        var job = Read(Job.Of(CircuitFacts.Designed()), 10, _ => 9.1);
        job.Tells(CircuitFacts.Designed(fittings: [CircuitFacts.Fitting("F1"), CircuitFacts.Fitting("F2", 2.6)]));
        Read(job, 5, _ => 12);
        Assert.Null(job.Circuit.Drift);

        Read(job, 3, _ => 12).FindsNothing(ReadingDrifts.Rule);
        Assert.Equal(8, Assert.Single(job.Circuit.Drift!).Visits);
    }

    [Fact]
    public void Each_place_and_quantity_is_looked_at_by_itself()
    {
        var job = Job.Of(CircuitFacts.Designed());
        for (var month = 0; month < 14; month++)
        {
            job.Waits(24 * 30).Tells(
                CircuitFacts.Reading(9.1 + Scatter[month % 10]),
                CircuitFacts.Reading(350 + Math.Round(100 * Scatter[month % 10]), ReadingQuantity.Milliamps),
                CircuitFacts.Reading(1.2 + (0.08 * month), ReadingQuantity.LoopOhms));
        }

        Assert.Equal(
            [MeasuredAs.VoltsDc, MeasuredAs.Milliamps, MeasuredAs.LoopOhms],
            job.Circuit.Drift!.Select(drift => drift.Quantity));
        job.Finds(ReadingDrifts.Rule, "driver:loop-ohms");
    }

    [Fact]
    public void Any_order_of_arrival_says_the_same()
    {
        var crew = new Crew();
        List<RecordedFact> facts = [crew.Records(CircuitFacts.Designed())];
        for (var month = 0; month < 20; month++)
            facts.Add(crew.Waits(24 * 30).Records(CircuitFacts.Reading(9.1 + (0.02 * month) + Scatter[month % 10])));
        facts.Add(crew.Records(Facts.Withdrawn(facts[7])));
        facts.Add(crew.Records(Facts.Replaced(facts[9], CircuitFacts.Reading(9.3))));
        var said = new HashSet<string>();
        for (var seed = 0; seed < 20; seed++)
        {
            var arrival = facts.ToArray();
            new Random(seed).Shuffle(arrival);
            var works = new WorksModel();
            foreach (var batch in arrival.Chunk(1 + (seed % 7))) works.Take(batch);
            Assert.Equal(ReadingTrend.SlowChange, Assert.Single(works.Circuit(Facts.Circuit).Drift!).Trend);
            said.Add(works.Json());
        }

        Assert.Single(said);
    }

    private static Job Read(Job job, int months, Func<int, double> volts)
    {
        for (var month = 0; month < months; month++)
            job.Waits(24 * 30).Tells(CircuitFacts.Reading(Math.Round(volts(month) + Scatter[month % 10], 2)));
        return job;
    }
}
