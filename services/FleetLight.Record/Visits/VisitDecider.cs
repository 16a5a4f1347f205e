using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;

namespace FleetLight.Record.Visits;

/// <summary>What was decided of a wish to change a visit: an event, nothing where it is so already, or why not.</summary>
/// <param name="Event">What happens; none where nothing has to.</param>
/// <param name="Refusal">Why it cannot be; none where it can.</param>
public sealed record VisitDecision(IVisitEvent? Event, VisitRefusal? Refusal = null)
{
    /// <summary>It is so already.</summary>
    public static VisitDecision Nothing { get; } = new((IVisitEvent?)null);
}

/// <summary>Why a visit cannot be changed so.</summary>
/// <param name="Detail">What stands in the way.</param>
/// <param name="Remedy">What to do.</param>
/// <param name="IsStale">Whether the wish was made from an older version of the visit.</param>
public sealed record VisitRefusal(string Detail, string Remedy, bool IsStale = false);

/// <summary>Decides what happens to visits.</summary>
public static class VisitDecider
{
    /// <summary>Puts another plan in the place of a visit's.</summary>
    /// <param name="visit">The visit.</param>
    /// <param name="plan">The plan wanted.</param>
    /// <param name="version">The version from which it was made; none where whoever asks did not say.</param>
    /// <param name="by">Who.</param>
    /// <param name="at">When.</param>
    public static VisitDecision Change(VisitView visit, VisitPlan plan, int? version, string by, DateTimeOffset at)
    {
        if (version is null)
        {
            return new(null, new(
                "It was not said from which version of the visit the change was made.",
                "Send the version that you read, as 'version' or in the header If-Match.",
                IsStale: true));
        }

        if (version != visit.Version)
        {
            return new(null, new(
                string.Create(CultureInfo.InvariantCulture, $"The visit is of version {visit.Version}; the change was made from version {version}."),
                "Read the visit again, then make your change.",
                IsStale: true));
        }

        if (visit.State != VisitState.Planned) return Over(visit);
        return VisitFold.PlanOf(visit).SaysTheSame(plan)
            ? VisitDecision.Nothing
            : new(new VisitChanged { VisitId = visit.Id, Plan = plan, By = by, At = at });
    }

    /// <summary>Says that a visit was made. Said again, nothing more happens.</summary>
    public static VisitDecision Done(VisitView visit, string? note, string by, DateTimeOffset at) => visit.State switch
    {
        VisitState.Planned => new(new VisitDone { VisitId = visit.Id, Note = note, By = by, At = at }),
        VisitState.Done => VisitDecision.Nothing,
        _ => Over(visit),
    };

    /// <summary>Calls a visit off. Called off again, nothing more happens.</summary>
    public static VisitDecision CallOff(VisitView visit, string by, DateTimeOffset at) => visit.State switch
    {
        VisitState.Planned => new(new VisitCalledOff { VisitId = visit.Id, By = by, At = at }),
        VisitState.CalledOff => VisitDecision.Nothing,
        _ => Over(visit),
    };

    private static VisitDecision Over(VisitView visit) => new(null, new(
        visit.State == VisitState.Done ? "The visit was made already." : "The visit was called off.",
        "Plan another visit." + (visit.EndedAt is { } at ? $" This one ended on {Words.Of(at)}." : "")));
}
