using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Record.Positions;
using FleetLight.Record.Rules;

namespace FleetLight.Record.Cables;

/// <summary>Folds the facts of a cable into its state.</summary>
public static class CableFold
{
    private static readonly Disagreement<CablePulled> Differs = new(
        ("length", cable => Words.Of(cable.LengthMetres, "m")),
        ("conductor area", cable => Words.Of(cable.AreaSquareMillimetres, "mm²")),
        ("conductor class", cable => Words.Of(cable.ConductorClass)),
        ("list of cores", Cores));

    /// <summary>The state of a cable.</summary>
    /// <param name="file">Its file.</param>
    /// <param name="sameThings">The files of ids joined to it, directly or through others.</param>
    /// <param name="networkOf">The reference points of a site; none are known where absent.</param>
    public static CableView Fold(ThingFile file, IReadOnlyList<ThingFile> sameThings, Func<string, ReferenceNetwork>? networkOf = null)
    {
        var history = ThingHistory.Of(file, sameThings);
        var state = CableReader.Read(history);
        Differs.AddTo(history.All<CablePulled>(), history.Contradictions);
        CableReader.AddStrangers(state, history, history.Contradictions);
        if (state.Pull is null) history.Waiting.Add("It waits for the fact that this cable was pulled.");
        var pull = state.Pull?.Data;
        var main = history.SameAs is null;
        return new CableView
        {
            Id = file.Id,
            SiteId = history.SiteId,
            SameAs = history.SameAs,
            WaitingFor = main ? history.Waiting : [],
            Contradictions = history.Contradictions,
            Findings = main ? RuleBook.FindOn(state) : [],
            Facts = history.Lines(),
            LengthMetres = pull?.LengthMetres,
            AreaSquareMillimetres = pull?.AreaSquareMillimetres,
            ConductorClass = pull?.ConductorClass,
            OutsideDiameterMillimetres = pull?.OutsideDiameterMillimetres,
            Points = history.RunPoints(networkOf),
            DuctIds = pull?.DuctIds ?? [],
            Cores = [.. state.Cores.Select(View)],
            SpareCores = state.Cores.Count(core => core.Use == CoreUse.Spare),
            Labels = LabelTexts(state),
            PulledAt = state.Pull?.At,
        };
    }

    private static CoreView View(CoreState core)
    {
        var sleeves = new SortedDictionary<RunEnd, CorePolarity>();
        foreach (var (end, sleeve) in core.Sleeves) sleeves[end] = sleeve.Data.Polarity;
        return new CoreView { Core = core.Core, Use = core.Use, CircuitId = core.CircuitId, Sleeves = sleeves };
    }

    private static SortedDictionary<RunEnd, string>? LabelTexts(CableState state)
    {
        if (state.Labels.Count == 0) return null;
        var texts = new SortedDictionary<RunEnd, string>();
        foreach (var (end, label) in state.Labels) texts[end] = label.Data.Label;
        return texts;
    }

    private static string Cores(CablePulled cable) =>
        string.Join(", ", cable.Cores.Select(core => $"{core.Core}: {Words.Of(core.Use)} {core.CircuitId}".TrimEnd()));
}
