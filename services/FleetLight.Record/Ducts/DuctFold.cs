using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Record.Positions;
using FleetLight.Record.Rules;

namespace FleetLight.Record.Ducts;

/// <summary>Folds the facts of a duct into its state.</summary>
public static class DuctFold
{
    private static readonly Disagreement<DuctLaid> Differs = new(
        ("service", duct => Words.Of(duct.Service)),
        ("colour", duct => Words.Of(duct.Colour)),
        ("wall", duct => Words.Of(duct.Wall)),
        ("bore", duct => Words.Of(duct.BoreMillimetres, "mm")),
        ("length", duct => Words.Of(duct.LengthMetres, "m")),
        ("depth", duct => Words.Of(duct.DepthMillimetres, "mm")));

    /// <summary>The state of a duct.</summary>
    /// <param name="file">Its file.</param>
    /// <param name="sameThings">The files of ids joined to it, directly or through others.</param>
    /// <param name="site">Its site, for what the job calls for; it counts only where the duct was laid on it.</param>
    /// <param name="cables">
    /// States of the cables that its file names and of what they are joined with, as far as known: they say which cable
    /// has left the duct by a later pull elsewhere.
    /// </param>
    public static DuctView Fold(
        ThingFile file,
        IReadOnlyList<ThingFile> sameThings,
        SiteView? site,
        IReadOnlyList<CableView>? cables = null) =>
        FoldOn(file, sameThings, id => site?.Id == id ? site : null, cables ?? []);

    /// <summary>The same where the site is looked up by the id that the duct's facts name.</summary>
    internal static DuctView FoldOn(
        ThingFile file,
        IReadOnlyList<ThingFile> sameThings,
        Func<string, SiteView?> siteOf,
        IReadOnlyList<CableView> cables,
        Func<string, ReferenceNetwork>? networkOf = null)
    {
        var history = ThingHistory.Of(file, sameThings);
        var state = DuctReader.Read(history, siteOf, cables);
        Differs.AddTo(history.All<DuctLaid>(), history.Contradictions);
        if (state.Laid is null) history.Waiting.Add("It waits for the fact that this duct was laid.");
        var laid = state.Laid?.Data;
        var main = history.SameAs is null;
        return new DuctView
        {
            Id = file.Id,
            SiteId = history.SiteId,
            SameAs = history.SameAs,
            WaitingFor = main ? history.Waiting : [],
            Contradictions = history.Contradictions,
            Findings = main ? RuleBook.FindOn(state) : [],
            Facts = history.Lines(),
            Service = laid?.Service,
            Colour = laid?.Colour,
            Wall = laid?.Wall,
            BoreMillimetres = laid?.BoreMillimetres,
            LengthMetres = laid?.LengthMetres,
            DepthMillimetres = laid?.DepthMillimetres,
            BendsDegrees = laid?.BendsDegrees,
            Route = laid?.Route,
            Points = history.RunPoints(networkOf),
            NearEndAt = laid?.NearEndAt,
            FarEndAt = laid?.FarEndAt,
            Labels = LabelTexts(state),
            PluggedEnds = [.. state.Plugs.Keys],
            StringInside = state.StringInside is not null,
            StringMethod = state.StringInside?.Data.Method,
            CableIds = [.. state.Cables.Select(cable => cable.CableId)],
            LastPullAt = state.LastPull?.At,
            FillPercent = state.FillPercent,
            ThickestMoreMillimetres = state.ThickestMoreMillimetres,
        };
    }

    private static SortedDictionary<RunEnd, string>? LabelTexts(DuctState state)
    {
        if (state.Labels.Count == 0) return null;
        var texts = new SortedDictionary<RunEnd, string>();
        foreach (var (end, label) in state.Labels) texts[end] = label.Data.Label;
        return texts;
    }
}
