using FleetLight.Contracts.Views;
using FleetLight.Record.Visits;

namespace FleetLight.Record.Tests.Visits;

public sealed class VisitDeciderTests
{
    private static readonly DateTimeOffset At = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_change_from_the_newest_version_is_made_and_counts_up()
    {
        var visit = Planned();
        var decision = VisitDecider.Change(visit, Plan(day: 8), 1, "Office", At);

        var changed = VisitFold.Apply(visit, decision.Event!)!;
        Assert.Equal((2, 8, "Office"), (changed.Version, changed.Day.Day, changed.ChangedBy));
    }

    [Theory]
    [InlineData(2)]
    [InlineData(0)]
    [InlineData(null)]
    public void A_change_from_another_version_or_from_none_is_refused(int? version)
    {
        var decision = VisitDecider.Change(Planned(), Plan(day: 8), version, "Office", At);

        Assert.Null(decision.Event);
        Assert.True(decision.Refusal!.IsStale);
    }

    [Fact]
    public void A_change_that_says_the_same_changes_nothing() =>
        Assert.Equal(VisitDecision.Nothing, VisitDecider.Change(Planned(), Plan(), 1, "Office", At));

    [Fact]
    public void What_was_made_or_called_off_is_so_once_and_for_all()
    {
        var visit = Planned();
        var done = VisitFold.Apply(visit, VisitDecider.Done(visit, "All done.", "Van 3", At).Event!)!;
        var off = VisitFold.Apply(visit, VisitDecider.CallOff(visit, "Office", At).Event!)!;

        Assert.Equal((VisitState.Done, "Van 3", "All done."), (done.State, done.EndedBy, done.EndNote));
        Assert.Equal(VisitState.CalledOff, off.State);
        Assert.Equal(VisitDecision.Nothing, VisitDecider.Done(done, null, "Van 3", At));
        Assert.Equal(VisitDecision.Nothing, VisitDecider.CallOff(off, "Office", At));
        Assert.NotNull(VisitDecider.CallOff(done, "Office", At).Refusal);
        Assert.NotNull(VisitDecider.Done(off, null, "Van 3", At).Refusal);
        Assert.NotNull(VisitDecider.Change(done, Plan(day: 9), done.Version, "Office", At).Refusal);
        Assert.Same(done, VisitFold.Apply(done, new VisitCalledOff { VisitId = "v1", By = "Office", At = At }));
    }

    [Fact]
    public void Nothing_but_planning_makes_a_visit() =>
        Assert.Null(VisitFold.Fold([new VisitDone { VisitId = "v1", By = "Van 3", At = At }, new VisitCalledOff { VisitId = "v1", By = "Office", At = At }]));

    private static VisitPlan Plan(int day = 5) => new() { Day = new DateOnly(2026, 3, day), Crew = "Birch", AlertIds = ["a1", "a2"], Note = "Ring first." };

    private static VisitView Planned() =>
        VisitFold.Fold([new VisitPlanned { VisitId = "v1", SiteId = "s1", Plan = Plan(), By = "Office", At = At.AddDays(-1) }])!;
}
