using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Views;

namespace FleetLight.PageParts.Drawings.Circuits;

/// <summary>A fitting, run or box where the trouble may be.</summary>
/// <param name="At">Its id.</param>
/// <param name="Likelihood">How likely it is that an explanation which names it is right, 0 to 1, no unit.</param>
/// <param name="Says">The likeliest of those explanations, in plain words.</param>
public sealed record Suspect(string At, double Likelihood, string Says)
{
    // What is less likely than this beside the likeliest only clutters the drawing; the list of causes has it all the same.
    private const double LeastBesideLikeliest = 0.2;

    // An explanation that names more places than this says "somewhere": marking them all would point nowhere.
    private const int MostPlaces = 12;

    /// <summary>The suspects by the explanations of a state, which are sorted likeliest first.</summary>
    public static IReadOnlyList<Suspect> Of(IReadOnlyList<ExplanationView> explanations)
    {
        ArgumentNullException.ThrowIfNull(explanations);
        return Of(explanations.Select(one => (one.At, one.Likelihood, one.Says)));
    }

    /// <summary>The suspects by the findings of a diagnosis.</summary>
    public static IReadOnlyList<Suspect> Of(DiagnosisFindings findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        return Of(findings.Explanations.Where(one => one.Fault is not (KindOfFault.AsDesigned or KindOfFault.NoneOfThese)).Select(one =>
            ((IReadOnlyList<string>)[.. one.FittingIds, .. one.RunIds, .. one.Places], one.ProbabilityPercent / 100, one.What)));
    }

    private static IReadOnlyList<Suspect> Of(IEnumerable<(IReadOnlyList<string> At, double Likelihood, string Says)> explanations)
    {
        var found = new Dictionary<string, Suspect>(StringComparer.Ordinal);
        double? likeliest = null;
        foreach (var (at, likelihood, says) in explanations)
        {
            likeliest ??= likelihood;
            if (likelihood < likeliest * LeastBesideLikeliest || at.Count > MostPlaces) continue;
            foreach (var place in at.Distinct(StringComparer.Ordinal))
            {
                found[place] = found.TryGetValue(place, out var known)
                    ? known with { Likelihood = Math.Min(1, known.Likelihood + likelihood) }
                    : new Suspect(place, likelihood, says);
            }
        }

        return [.. found.Values.OrderByDescending(suspect => suspect.Likelihood)];
    }
}
