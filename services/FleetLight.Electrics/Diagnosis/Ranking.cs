namespace FleetLight.Electrics;

/// <summary>Turns weighed hypotheses into explanations: merged, ranked and grouped.</summary>
internal sealed class Ranking
{
    /// <summary>Hypotheses below this probability are left out.</summary>
    public const double LeastProbability = 1e-4;

    private const int MostExplanations = 24;

    private readonly CircuitPlan plan;
    private readonly Evidence evidence;
    private readonly ICircuitState sound;
    private readonly List<Merged> merged = [];

    private Ranking(CircuitPlan plan, Evidence evidence, ICircuitState sound)
    {
        this.plan = plan;
        this.evidence = evidence;
        this.sound = sound;
    }

    /// <summary>Ranks hypotheses whose probabilities are set, likeliest first, and notes in each where it went.</summary>
    /// <param name="plan">The circuit.</param>
    /// <param name="evidence">The readings.</param>
    /// <param name="sound">The circuit as designed.</param>
    /// <param name="hypotheses">The hypotheses.</param>
    /// <param name="unlisted">Those that fell out as too unlikely; they may still tell a figure that fits best.</param>
    public static DiagnosisResult Rank(
        CircuitPlan plan, Evidence evidence, ICircuitState sound, IReadOnlyList<WeighedHypothesis> hypotheses,
        IReadOnlyList<WeighedHypothesis> unlisted)
    {
        var ranking = new Ranking(plan, evidence, sound);
        ranking.Merge(hypotheses);
        var groups = ranking.Group();
        var explanations = ranking.merged.ConvertAll(one => ranking.Explain(one, unlisted));
        return new DiagnosisResult([.. explanations], null, evidence.Used.Length)
        {
            Groups = [.. groups.Select(group => FaultGroups.Of(group.Number, group.Members, explanations))],
            AsDesignedProbability = Math.Min(1, hypotheses
                .Where(one => one.Kind == FaultKind.AsDesigned).Sum(one => one.Probability)),
        };
    }

    private void Merge(IReadOnlyList<WeighedHypothesis> hypotheses)
    {
        var all = new List<Merged>();
        foreach (var hypothesis in hypotheses)
        {
            var into = all.Find(one => AreSame(one.Lead, hypothesis));
            if (into is null) all.Add(into = new Merged(hypothesis));
            into.All.Add(hypothesis);
            into.Probability += hypothesis.Probability;
        }

        merged.AddRange(all
            .OrderByDescending(one => one.Probability)
            .Where((one, i) => one.Lead.Kind == FaultKind.NoneOfThese || i < MostExplanations));
        for (var i = 0; i < merged.Count; i++)
            foreach (var hypothesis in merged[i].All) hypothesis.Explanation = i;
    }

    // The same fault in several places is one explanation where the readings cannot tell the places apart.
    private bool AreSame(WeighedHypothesis a, WeighedHypothesis b)
    {
        if (!ReferenceEquals(a.Definition, b.Definition)) return false;
        if (a.Kind == FaultKind.NoneOfThese || ReferenceEquals(a.Case, b.Case)) return true;
        return a.Case.Variant == b.Case.Variant
            && (a.Case.Free is null) == (b.Case.Free is null)
            && (a.Case.Free is not null || a.Case.Figure.Equals(b.Case.Figure))
            && (a.Kind == FaultKind.TwoFittingsOfOtherWattage || AreOfOneMake(a.Case, b.Case))
            && Likeness.CannotTell(a, b, evidence);
    }

    private bool AreOfOneMake(FaultCase a, FaultCase b) =>
        a.Fittings.OrEmpty().Length == 0 || b.Fittings.OrEmpty().Length == 0
        || WattsOf(a.Fittings[0]).Equals(WattsOf(b.Fittings[0]));

    private double WattsOf(int fitting) =>
        fitting >= 0 && fitting < plan.Model.Fittings.Length ? plan.Model.Fittings[fitting].RatedWatts : 0;

    private List<(int Number, List<int> Members)> Group()
    {
        var groups = new List<(int Number, List<int> Members)>();
        foreach (var one in merged.Select((m, i) => (m.Lead, Index: i)))
        {
            var into = groups.Find(group => one.Lead.Kind != FaultKind.NoneOfThese
                && merged[group.Members[0]].Lead.Kind != FaultKind.NoneOfThese
                && Likeness.CannotTell(merged[group.Members[0]].Lead, one.Lead, evidence));
            if (into.Members is null) groups.Add((0, [one.Index]));
            else into.Members.Add(one.Index);
        }

        var ranked = groups.OrderByDescending(group => group.Members.Sum(i => merged[i].Probability)).ToList();
        for (var g = 0; g < ranked.Count; g++)
        {
            ranked[g] = (g + 1, ranked[g].Members);
            foreach (var i in ranked[g].Members)
            {
                merged[i].Group = g + 1;
                foreach (var hypothesis in merged[i].All) hypothesis.Group = g + 1;
            }
        }

        return ranked;
    }

    private FaultExplanation Explain(Merged one, IReadOnlyList<WeighedHypothesis> unlisted)
    {
        var rival = merged.Find(other => other.Group != one.Group && other.Lead.State is not null)?.Lead.State ?? sound;
        return Explaining.Of(plan, evidence, sound, one, rival, BestFitWatts(one, unlisted));
    }

    private double? BestFitWatts(Merged one, IReadOnlyList<WeighedHypothesis> unlisted)
    {
        if (one.Lead.Kind == FaultKind.FittingOfUnlistedWattage) return one.Lead.Figure;
        if (one.Lead.Kind != FaultKind.FittingOfOtherWattage) return null;
        return merged.SelectMany(m => m.All).Concat(unlisted)
            .Where(h => h.Kind == FaultKind.FittingOfUnlistedWattage
                && h.Case.Fittings.Contains(one.Lead.Case.Fittings[0]))
            .MaxBy(h => h.LogWeight)?.Figure;
    }

    /// <summary>Hypotheses that are one explanation.</summary>
    internal sealed class Merged(WeighedHypothesis lead)
    {
        /// <summary>The likeliest of them.</summary>
        public WeighedHypothesis Lead { get; } = lead;

        /// <summary>All of them.</summary>
        public List<WeighedHypothesis> All { get; } = [];

        /// <summary>Their probability together.</summary>
        public double Probability { get; set; }

        /// <summary>The number of their group.</summary>
        public int Group { get; set; }
    }
}
