using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Cables;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Cables;

/// <summary>
/// Sleeves that will have a fitting connected the wrong way round: it does not light and may be destroyed.
/// </summary>
public static class PolaritySleeveWrong
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "polarity-sleeve-wrong",
        "Polarity sleeving wrong",
        AlertSeverity.Serious,
        "The sleeves at the two ends of a core say different polarities, or all sleeved cores of one circuit in "
            + "a cable say the same one.",
        "Prove the polarity by measurement, then sleeve both ends alike and record it.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the cable.</summary>
    public static void Find(CableState cable, ICollection<Finding> found)
    {
        foreach (var core in cable.Cores)
            if (core.Sleeves.TryGetValue(RunEnd.Near, out var near) && core.Sleeves.TryGetValue(RunEnd.Far, out var far)
                && near.Data.Polarity != far.Data.Polarity)
            {
                found.Add(Rule.On(
                    cable.Subject,
                    $"Core {core.Core} is sleeved {Words.Of(near.Data.Polarity)} at its near end and "
                        + $"{Words.Of(far.Data.Polarity)} at its far end.",
                    core.CircuitId is { } circuit ? [circuit] : [],
                    [near.Key, far.Key],
                    $"ends:{core.Core}"));
            }

        foreach (var circuit in cable.CircuitIds) FindAlike(cable, circuit, found);
    }

    // Two legs of one circuit cannot both leave the driver or both return to it; a series link may occur any number of
    // times.
    private static void FindAlike(CableState cable, string circuit, ICollection<Finding> found)
    {
        List<Counted<CoreSleeved>> sleeves = [];
        var cores = 0;
        foreach (var core in cable.Cores)
        {
            if (core.CircuitId != circuit || core.Sleeves.Count == 0) continue;
            cores++;
            sleeves.AddRange(core.Sleeves.Values);
        }

        if (cores < 2 || sleeves[0].Data.Polarity == CorePolarity.SeriesLink) return;
        if (sleeves.Any(sleeve => sleeve.Data.Polarity != sleeves[0].Data.Polarity)) return;
        found.Add(Rule.On(
            cable.Subject,
            $"All {cores} sleeved cores of circuit {circuit} are sleeved {Words.Of(sleeves[0].Data.Polarity)}.",
            [circuit],
            [.. sleeves.Select(sleeve => sleeve.Key)],
            $"circuit:{circuit}"));
    }
}
