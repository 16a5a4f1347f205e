using FleetLight.Contracts.Facts;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Circuits;

/// <summary>
/// Work on a circuit that may have changed what it reads: repairs, and what else was done after it was first energised.
/// </summary>
/// <param name="At">When.</param>
/// <param name="What">What was done, in words; empty where it is not said.</param>
public sealed record WorkDone(DateTimeOffset At, string What)
{
    // Older work lies before any history of readings worth looking at.
    private const int Most = 12;

    /// <summary>The works of a circuit, oldest first; of one visit the last.</summary>
    internal static IReadOnlyList<WorkDone> Of(ThingHistory history, DateTimeOffset? firstEnergised)
    {
        IEnumerable<WorkDone> later =
        [
            .. history.All<DriverConnected>().Select(fact => new WorkDone(fact.At, "Driver connected.")),
            .. history.All<FittingFixed>().Select(fact => new WorkDone(fact.At, $"Fitting {fact.Data.FittingId} fixed.")),
            .. history.All<JointMade>().Select(fact => new WorkDone(fact.At, $"Joint {fact.Data.JointId} made.")),
        ];
        List<WorkDone> works = [];
        foreach (var work in later.Where(work => work.At > firstEnergised)
                     .Concat(history.All<RepairMade>().Select(fact => new WorkDone(fact.At, fact.Data.What)))
                     .OrderBy(work => work.At).ThenBy(work => work.What, StringComparer.Ordinal))
        {
            if (works.Count > 0 && (work.At - works[^1].At).TotalHours <= Visit.Hours) works[^1] = work;
            else works.Add(work);
        }

        return works.Count <= Most ? works : works[^Most..];
    }
}
