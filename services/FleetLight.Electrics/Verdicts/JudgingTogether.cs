namespace FleetLight.Electrics;

/// <content>Judges several readings of one circuit together.</content>
public static partial class Verdicts
{
    /// <summary>
    /// Judges the readings of one visit, each on its own and all together. Each on its own would fail more good circuits the
    /// more is measured; together the rule's risk holds for the set.
    /// </summary>
    /// <param name="model">The circuit. Any content is answered.</param>
    /// <param name="readings">The readings, oldest first. Repeated ones count once, by their mean and scatter.</param>
    /// <param name="rule">The risks to judge by; the stated defaults if null.</param>
    /// <param name="assumptions">What is assumed where the record is silent; the stated defaults if null.</param>
    public static JointVerdict JudgeAll(
        CircuitModel? model, IReadOnlyList<MeasuredReading?>? readings, DecisionRule? rule = null,
        Assumptions? assumptions = null) =>
        JudgeAll(model, Expected.Of(model, assumptions), readings, rule, assumptions);

    /// <summary>The same where it is known already what the circuit should read.</summary>
    /// <param name="model">The circuit.</param>
    /// <param name="expected">What <see cref="Expected.Of"/> answered for it by the same assumptions.</param>
    /// <param name="readings">The readings, oldest first.</param>
    /// <param name="rule">The risks to judge by; the stated defaults if null.</param>
    /// <param name="assumptions">What is assumed where the record is silent; the stated defaults if null.</param>
    public static JointVerdict JudgeAll(
        CircuitModel? model, ExpectedOutcome expected, IReadOnlyList<MeasuredReading?>? readings, DecisionRule? rule,
        Assumptions? assumptions)
    {
        ArgumentNullException.ThrowIfNull(expected);
        var given = readings ?? [];
        var each = new Verdict[given.Count];
        for (var i = 0; i < each.Length; i++) each[i] = Judge(expected, given[i], rule);
        var together = expected is ExpectedReadings reads
            ? Together(model, given, each, reads, rule ?? DecisionRule.Default, assumptions)
            : null;
        return WithMinimums(together ?? NothingTogether(expected, each), each) with { Each = [.. each] };
    }

    private static JointVerdict? Together(
        CircuitModel? model, IReadOnlyList<MeasuredReading?> given, Verdict[] each, ExpectedReadings reads,
        DecisionRule rule, Assumptions? assumptions)
    {
        var groups = ReadingGroups.Of(given, each, reads.Drive);
        if (groups.Count == 0) return null;
        if (groups.Count > 1)
        {
            var plan = CircuitPlan.TryLay(model, assumptions, out _);
            return plan?.Solve([], []) is { } state ? JointJudgement.Of(groups, reads, plan, state, rule) : null;
        }

        var one = Judge(reads, groups[0], rule);
        return new JointVerdict(one.Kind, one.Reason, one.Text)
        {
            Compared = 1,
            ProbabilityAsDesigned = one.ProbabilityAsDesigned,
            RiskOfFailingGood = one.RiskOfFailingGood,
        };
    }

    // Nothing stands beside anything else: the worst reading on its own speaks.
    private static JointVerdict NothingTogether(ExpectedOutcome expected, Verdict[] each)
    {
        var worst = each.Length > 0 ? each[0] : null;
        foreach (var one in each)
            if (Weight(one.Kind) > Weight(worst!.Kind)) worst = one;
        if (worst is not null) return new JointVerdict(worst.Kind, worst.Reason, worst.Text);
        return expected is CannotExpect refusal
            ? new JointVerdict(VerdictKind.CannotBeJudged, VerdictReason.NothingExpected, refusal.Text)
            : new JointVerdict(VerdictKind.CannotBeJudged, VerdictReason.BadReading, "There is no reading.");
    }

    // What does not reach its minimum is not as it should be, whatever the rest.
    private static JointVerdict WithMinimums(JointVerdict together, Verdict[] each)
    {
        var worst = together;
        foreach (var one in each)
        {
            if (one.Reason != VerdictReason.ComparedWithMinimum || Weight(one.Kind) <= Weight(worst.Kind)) continue;
            worst = worst with { Kind = one.Kind, Reason = one.Reason, Text = one.Text };
        }

        return worst;
    }

    private static int Weight(VerdictKind kind) => kind switch
    {
        VerdictKind.Outside => 3,
        VerdictKind.Doubtful => 2,
        VerdictKind.Within => 1,
        _ => 0,
    };
}
