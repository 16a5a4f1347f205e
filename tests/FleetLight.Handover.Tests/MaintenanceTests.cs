using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Handover;
using FleetLight.Testing.Builders;

namespace FleetLight.Handover.Tests;

/// <summary>Days of the plan of maintenance.</summary>
public sealed class MaintenanceTests
{
    [Fact]
    public void Without_a_record_of_it_the_next_turn_from_the_first_day_in_use_is_told()
    {
        var look = Task(Garden.Pack(), "look-after-dark");

        // In use since 2 March 2026, every six months; the pack is of 20 November.
        Assert.Equal([new(2027, 3, 2), new(2027, 9, 2), new(2028, 3, 2)], look.Due);
        Assert.False(look.Overdue);
        Assert.Equal(MaintenanceHand.Owner, look.Hand);
    }

    [Fact]
    public void What_a_fact_shows_as_done_counts_from_there_and_may_be_overdue()
    {
        var recorded = Garden.Recorded(readings: 1);
        var late = Task(Make(recorded, Garden.Wish() with { Now = Garden.Now.AddYears(1) }), "read-driver");

        Assert.Equal(new DateOnly(2026, 3, 11), late.LastOn);
        Assert.Equal(new DateOnly(2027, 3, 11), late.Due[0]);
        Assert.True(late.Overdue);
    }

    [Fact]
    public void Intervals_may_be_set() => Assert.Equal(
        [new(2026, 12, 2), new(2027, 1, 2), new(2027, 2, 2)],
        Task(Make(Garden.Recorded(), Garden.Wish() with { Every = HandoverIntervals.Default with { LookMonths = 1 } }), "look-after-dark").Due);

    [Fact]
    public void The_end_of_a_short_month_does_not_make_days_wander()
    {
        // Begun on the last of August: 28 February, and then 31 August again.
        var crew = new Crew(starts: new DateTimeOffset(2026, 8, 31, 9, 0, 0, TimeSpan.Zero));
        RecordedFact[] facts = [crew.Records(CircuitFacts.Designed()), crew.Records(CircuitFacts.Energised())];

        Assert.Equal([new(2027, 2, 28), new(2027, 8, 31), new(2028, 2, 29)], Task(Make(facts, Garden.Wish()), "look-after-dark").Due);
    }

    [Fact]
    public void Nothing_is_due_before_anything_is_in_use()
    {
        var crew = new Crew();
        var pack = Make([crew.Records(CircuitFacts.Designed()), crew.Records(Facts.DuctLaid())], Garden.Wish());

        Assert.All(pack.Maintenance, task => Assert.Empty(task.Due));
        Assert.Null(pack.CommissionedOn);
        Assert.Contains("begins when the first circuit is in use", Assert.Single(pack.Summary.LookAfter), StringComparison.Ordinal);
    }

    [Fact]
    public void Mains_tasks_are_asked_for_where_mains_is_part_of_the_job_only()
    {
        var pack = Garden.Pack();
        Assert.Equal(["k1"], Task(pack, "inspect-mains-side").CircuitIds);
        Assert.Equal(MaintenanceHand.Licensed, Task(pack, "inspect-mains-side").Hand);
        var crew = new Crew();
        var none = Make([crew.Records(CircuitFacts.Designed()), crew.Records(CircuitFacts.Energised())], Garden.Wish());
        Assert.DoesNotContain(none.Maintenance, task => task.Key is "inspect-mains-side" or "press-test-button");
    }

    [Fact]
    public void Days_are_those_of_the_clock_that_was_asked_for()
    {
        var crew = new Crew(starts: new DateTimeOffset(2026, 3, 2, 23, 30, 0, TimeSpan.Zero));
        RecordedFact[] facts = [crew.Records(CircuitFacts.Designed()), crew.Records(CircuitFacts.Energised())];

        Assert.Equal(new DateOnly(2026, 3, 2), Make(facts, Garden.Wish()).CommissionedOn);
        Assert.Equal(new DateOnly(2026, 3, 3), Make(facts, Garden.Wish() with { OffsetMinutes = 60 }).CommissionedOn);
    }

    private static HandoverPack Make(IEnumerable<RecordedFact> facts, HandoverWish wish) => HandoverMaker.Of(facts, wish)!;

    private static MaintenanceTask Task(HandoverPack pack, string key) => pack.Maintenance.First(task => task.Key == key);
}
