using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>The words of an answer.</summary>
internal static class HeadroomWording
{
    /// <summary>The answer in one or two sentences.</summary>
    public static string Of(int fittings, MayBeAdded may, ImmutableArray<HeadroomReason> reasons)
    {
        var what = fittings == 1 ? "The fitting" : $"The {fittings} fittings";
        return may switch
        {
            MayBeAdded.Yes => $"{what} may be added.",
            MayBeAdded.YesBut => $"{what} may be added, but: {reasons[0].Text}{More(reasons.Length - 1)}",
            _ => $"{what} may not be added: {reasons[0].Text}{More(reasons.Count(r => r.Refuses) - 1)}",
        };
    }

    /// <summary>The steps of a change in one sentence.</summary>
    public static string Of(ImmutableArray<ProposedStep> steps) =>
        string.Join(" And: ", steps.Select(step => step.Text));

    private static string More(int others) => others switch
    {
        <= 0 => "",
        1 => " One more reason stands beside it.",
        _ => $" {others} more reasons stand beside it.",
    };
}
