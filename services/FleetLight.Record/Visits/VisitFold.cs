using FleetLight.Contracts.Views;

namespace FleetLight.Record.Visits;

/// <summary>Folds what happened to a visit into its state.</summary>
public static class VisitFold
{
    /// <summary>The state after all events; none where it was never planned.</summary>
    /// <param name="events">The events of one visit in the order in which they were kept.</param>
    public static VisitView? Fold(IEnumerable<IVisitEvent> events)
    {
        VisitView? view = null;
        foreach (var one in events) view = Apply(view, one);
        return view;
    }

    /// <summary>The state after one more event; what is known of a visit's end no later event changes.</summary>
    /// <param name="visit">The state before; none before the first event.</param>
    /// <param name="happened">What happened.</param>
    public static VisitView? Apply(VisitView? visit, IVisitEvent happened) => (visit, happened) switch
    {
        (null, VisitPlanned planned) => With(
            new VisitView
            {
                Id = planned.VisitId,
                Version = 1,
                State = VisitState.Planned,
                SiteId = planned.SiteId,
                Day = planned.Plan.Day,
                AlertIds = planned.Plan.AlertIds,
                PlannedBy = planned.By,
                PlannedAt = planned.At,
            },
            planned.Plan),
        ({ State: VisitState.Planned }, VisitChanged changed) => With(
            visit with { Version = visit.Version + 1, ChangedBy = changed.By, ChangedAt = changed.At }, changed.Plan),
        ({ State: VisitState.Planned }, VisitDone done) => Ended(visit, VisitState.Done, done) with { EndNote = done.Note },
        ({ State: VisitState.Planned }, VisitCalledOff off) => Ended(visit, VisitState.CalledOff, off),
        _ => visit,
    };

    /// <summary>The plan in force of a visit.</summary>
    public static VisitPlan PlanOf(VisitView visit) =>
        new() { Day = visit.Day, Crew = visit.Crew, Source = visit.Source, AlertIds = visit.AlertIds, Note = visit.Note };

    private static VisitView With(VisitView visit, VisitPlan plan) =>
        visit with { Day = plan.Day, Crew = plan.Crew, Source = plan.Source, AlertIds = plan.AlertIds, Note = plan.Note };

    private static VisitView Ended(VisitView visit, VisitState state, IVisitEvent end) =>
        visit with { Version = visit.Version + 1, State = state, EndedBy = end.By, EndedAt = end.At };
}
