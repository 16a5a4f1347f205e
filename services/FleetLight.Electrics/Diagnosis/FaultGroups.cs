namespace FleetLight.Electrics;

/// <summary>Puts groups of explanations into words.</summary>
internal static class FaultGroups
{
    // Members below this share of their group are not named.
    private const double LeastShare = 0.02;

    private const int MostNamed = 6;

    /// <summary>A group.</summary>
    /// <param name="number">Its number.</param>
    /// <param name="members">Its explanations by index, likeliest first.</param>
    /// <param name="explanations">All explanations.</param>
    public static FaultGroup Of(int number, IReadOnlyList<int> members, IReadOnlyList<FaultExplanation> explanations)
    {
        var probability = members.Sum(i => explanations[i].Probability);
        var named = members.Where(i => explanations[i].Probability >= LeastShare * probability).Take(MostNamed).ToList();
        var says = named.Count <= 1
            ? explanations[members[0]].What
            : "These readings cannot tell these apart: "
                + string.Join(" Or: ", named.Select(i => explanations[i].What))
                + " Measure at another place, or look.";
        return new FaultGroup(number, [.. members], Math.Min(1, probability), says);
    }
}
