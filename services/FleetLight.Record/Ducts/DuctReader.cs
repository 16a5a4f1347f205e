using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Ducts;

/// <summary>Reads what is known of a duct out of its history.</summary>
internal static class DuctReader
{
    private static readonly RunEnd[] BothEnds = [RunEnd.Near, RunEnd.Far];

    public static DuctState Read(ThingHistory history, Func<string, SiteView?> siteOf, IReadOnlyList<CableView> cables)
    {
        var laid = history.Newest<DuctLaid>();
        var pulls = history.All<CablePulled>();
        var lastPull = pulls.Count == 0 ? null : pulls[^1];
        var inside = Inside(history, pulls, cables);
        var lastString = history.Newest<StringLeft>();
        return new DuctState
        {
            Subject = history.Subject,
            Laid = laid,
            Call = laid is null
                ? null
                : siteOf(laid.Data.SiteId)?.DuctCalls?.LastOrDefault(call => call.Service == laid.Data.Service),
            Cables = inside,
            LastPull = lastPull,
            Plugs = NewestByEnd(
                history.All<DuctPlugged>().Where(plug => lastPull is null || plug.At >= lastPull.At), plug => plug.End),
            Labels = NewestByEnd(history.All<DuctLabelled>(), label => label.End),
            StringInside = lastPull is null || lastString?.At >= lastPull.At ? lastString : null,
            CircuitIds =
            [
                .. inside.SelectMany(cable => cable.CircuitIds)
                    .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal),
            ],
            FillPercent = laid is null ? null : Fill(laid.Data.BoreMillimetres, inside),
            ThickestMoreMillimetres = laid is null ? null : ThickestMore(laid.Data.BoreMillimetres, inside),
        };
    }

    // A cable lies where its newest pull says. Its own state knows that pull even where it names other ducts; without
    // it the pulls in this duct's file are the best there is.
    private static List<CableInDuct> Inside(
        ThingHistory history, List<Counted<CablePulled>> pulls, IReadOnlyList<CableView> cables)
    {
        var inside = new List<CableInDuct>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        for (var i = pulls.Count - 1; i >= 0; i--)
        {
            var pull = pulls[i];
            var view = Resolve(pull.Data.CableId, cables);
            var id = view?.Id ?? pull.Data.CableId;
            if (!seen.Add(id)) continue;
            var known = view?.PulledAt is not null ? view : null;
            if (known is not null && !known.DuctIds.Any(history.Ids.Contains)) continue;
            inside.Add(new CableInDuct(
                id,
                known is null ? pull.Data.OutsideDiameterMillimetres : known.OutsideDiameterMillimetres,
                Circuits(known is null
                    ? pull.Data.Cores.Select(core => core.CircuitId)
                    : known.Cores.Select(core => core.CircuitId)),
                pull));
        }

        inside.Reverse();
        return inside;
    }

    private static CableView? Resolve(string id, IReadOnlyList<CableView> cables)
    {
        var view = cables.FirstOrDefault(cable => cable.Id == id);
        return view?.SameAs is { } kept ? cables.FirstOrDefault(cable => cable.Id == kept) : view;
    }

    private static IReadOnlyList<string> Circuits(IEnumerable<string?> ids) =>
        [.. ids.OfType<string>().Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];

    private static SortedDictionary<RunEnd, Counted<T>> NewestByEnd<T>(
        IEnumerable<Counted<T>> facts, Func<T, RunEnd?> endOf)
        where T : IFact
    {
        var newest = new SortedDictionary<RunEnd, Counted<T>>();
        foreach (var fact in facts)
            foreach (var end in endOf(fact.Data) is { } one ? [one] : BothEnds) newest[end] = fact;
        return newest;
    }

    private static double? Fill(double boreMillimetres, List<CableInDuct> cables)
    {
        var squares = 0.0;
        foreach (var cable in cables)
        {
            if (cable.OutsideDiameterMillimetres is not { } diameter) return null;
            squares += diameter * diameter;
        }

        return Math.Round(100 * squares / (boreMillimetres * boreMillimetres), 2);
    }

    private static double? ThickestMore(double boreMillimetres, List<CableInDuct> cables)
    {
        var diameters = new double[cables.Count];
        for (var i = 0; i < diameters.Length; i++)
        {
            if (cables[i].OutsideDiameterMillimetres is not { } diameter) return null;
            diameters[i] = diameter;
        }

        return DuctFill.Of(boreMillimetres, diameters).Value is { } fill ? Math.Round(fill.ThickestMoreMillimetres, 2) : null;
    }
}
