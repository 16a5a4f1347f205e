using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Holds the spare cores that a change needs against those that are there.</summary>
internal static class SpareCheck
{
    private const int Pair = 2;

    /// <summary>How many spare cores a run has; null where that is not known.</summary>
    public static int? CountOf(HeadroomQuestion question, string run)
    {
        foreach (var spare in question.SpareCores.OrEmpty())
            if (spare.RunId == run) return spare.Count;
        return null;
    }

    /// <summary>The reasons that the cores give, for a pair of its own over each run named.</summary>
    public static ImmutableArray<HeadroomReason> Reasons(HeadroomQuestion question)
    {
        ImmutableArray<HeadroomReason> reasons = [];
        foreach (var run in question.Where.SpareRunIds.OrEmpty())
        {
            var count = CountOf(question, run);
            if (count >= Pair) continue;
            reasons = reasons.Add(new HeadroomReason(
                HeadroomLimit.SpareCores, count is not null, run,
                count is null
                    ? $"How many cores lie spare in the cable of run {run} is not recorded; {Pair} are needed."
                    : $"The cable of run {run} has {count} spare cores; {Pair} are needed, out and back.",
                "the cable's record")
            { Value = count, LimitValue = Pair, Unit = "cores" });
        }

        return reasons;
    }
}
