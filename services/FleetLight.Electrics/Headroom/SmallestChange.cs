using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// Looks for the smallest change that makes a change possible: one step, or two of different kinds or runs.
/// </summary>
/// <remarks>
/// Every proposal is worked out in full before it is returned. Two steps are only put together where neither suffices
/// alone; of each two kinds the cheapest pair is kept. The search ends after <see cref="MostTrials"/> circuits.
/// </remarks>
internal sealed class SmallestChange
{
    /// <summary>The most circuits that are worked out in one search.</summary>
    public const int MostTrials = 5000;

    private readonly HeadroomQuestion question;
    private readonly HeadroomOptions options;
    private readonly Assumptions assumptions;
    private readonly List<Proposal> proposals = [];
    private int trials;

    private SmallestChange(HeadroomQuestion question, HeadroomOptions options, Assumptions assumptions)
    {
        this.question = question;
        this.options = options;
        this.assumptions = assumptions;
    }

    /// <summary>The proposals, the cheapest first.</summary>
    public static ImmutableArray<Proposal> Find(
        HeadroomQuestion question, Assessment found, HeadroomOptions options, Assumptions assumptions)
    {
        var search = new SmallestChange(question, options, assumptions);
        search.Search(found);
        return
        [
            .. search.proposals
                .OrderBy(p => p.Cost).ThenBy(p => p.Steps.Length).ThenBy(p => p.May)
                .Take(options.MostProposals),
        ];
    }

    private void Search(Assessment found)
    {
        var driverSuffices = WithDriver([], 0, found);
        var ladders = StepLadders.Of(question, found, options);
        var below = new List<(ProposedStep Step, double Cost, Assessment Found)>[ladders.Count];
        for (var a = 0; a < ladders.Count; a++) below[a] = Climb(ladders[a]);
        for (var a = 0; a < ladders.Count; a++)
        {
            if (!driverSuffices) WithDriver(below[a]);
            for (var b = a + 1; b < ladders.Count; b++)
            {
                if (ladders[a].RunId is null || ladders[a].RunId != ladders[b].RunId) Pair(below[a], below[b]);
            }
        }
    }

    // Up to the first step that suffices; the steps below it can still be one of two.
    private List<(ProposedStep Step, double Cost, Assessment Found)> Climb(StepLadder ladder)
    {
        List<(ProposedStep, double, Assessment)> below = [];
        foreach (var (step, cost) in ladder.Steps)
        {
            if (Try([step]) is not { } tried || Proposed([step], cost, tried)) break;
            below.Add((step, cost, tried));
        }

        return below;
    }

    private void Pair(
        List<(ProposedStep Step, double Cost, Assessment Found)> one,
        List<(ProposedStep Step, double Cost, Assessment Found)> other)
    {
        if (one.Count == 0 || other.Count == 0) return;
        // What both at their greatest do not reach, no pair reaches; only the driver's least volts run the other way.
        if (Try([one[^1].Step, other[^1].Step]) is not { } greatest) return;
        if (greatest.Reasons.Any(r => r.Refuses && r.Limit != HeadroomLimit.DriverLeastVolts)) return;
        (double Cost, ProposedStep[] Steps, Assessment Found)? best = null;
        foreach (var first in one)
        {
            foreach (var second in other)
            {
                var cost = first.Cost + second.Cost;
                if (best is not null && cost >= best.Value.Cost) continue;
                if (Try([first.Step, second.Step]) is not { } tried) return;
                if (tried.May != MayBeAdded.No) best = (cost, [first.Step, second.Step], tried);
            }
        }

        if (best is { } found) Proposed(found.Steps, found.Cost, found.Found);
    }

    private void WithDriver(List<(ProposedStep Step, double Cost, Assessment Found)> steps)
    {
        foreach (var (step, cost, tried) in steps)
            if (WithDriver([step], cost, tried)) return;
    }

    // What the driver lacks is known from the figures; a driver that has it need not be searched for.
    private bool WithDriver(ProposedStep[] steps, double cost, Assessment found)
    {
        if (found.Needed is not { } needed) return false;
        ProposedStep[] all = [.. steps, StepLadders.Driver(question.Circuit, needed)];
        return Try(all) is { } tried && Proposed(all, cost + options.Costs.LargerDriver, tried);
    }

    private Assessment? Try(ProposedStep[] steps)
    {
        if (++trials > MostTrials) return null;
        var asked = steps.Aggregate(question, StepsTaken.After);
        return Assessment.Of(AlteredCircuit.Build(asked), options, assumptions, SpareCheck.Reasons(asked));
    }

    private bool Proposed(ProposedStep[] steps, double cost, Assessment tried)
    {
        if (tried.May == MayBeAdded.No) return false;
        proposals.Add(new Proposal([.. steps], cost, tried.May, HeadroomWording.Of([.. steps]))
        {
            Reasons = tried.Reasons,
            After = tried.Left,
        });
        return true;
    }
}
