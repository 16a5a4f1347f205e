using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Works;

/// <summary>
/// Works out which things belong to the facts of a site: those that its facts touch, and those that the folds of these look at,
/// though facts of other sites alone speak of them. So whoever holds the facts of all of a site's things can fold every one of
/// them whole.
/// </summary>
/// <remarks>
/// <para>A thing that a fact of the site touches is 0 steps away. Each link is a step more, and none where it says that two ids are one
/// thing. The longest way that a fold looks is <see cref="MostSteps"/>: from a circuit to its cables, on to their ducts, and to the
/// other cables in these. Further things are left out, so that one cable between two sites does not make one of both.</para>
/// <para>A thing that the facts of more than <see cref="MostSites"/> sites touch is an id that many use, and no thing between sites: it
/// joins none of them, or each would hold the facts of all. Such a site holds what its own facts say of the thing.</para>
/// <para>Steps only ever become fewer, so the order of arrival cannot show, but for which sites a thing with too many of them still
/// joins: more than is needed may stand in a list, and never less.</para>
/// <para>Usage: <see cref="Know"/> what is kept of all things at hand, <see cref="Touch"/> and <see cref="Link"/>; then, until
/// <see cref="Open"/> is empty, look up the links of those things and what is kept of the things at their other ends, and hand in
/// both.</para>
/// </remarks>
public sealed class SiteReach
{
    /// <summary>Most steps from what a site's facts touch, a count.</summary>
    public const int MostSteps = 3;

    /// <summary>Most sites that a thing belongs to and joins, a count. Long feeders pass a few sites; common practice, no source.</summary>
    public const int MostSites = 16;

    private readonly Dictionary<ThingRef, Dictionary<string, int>> steps = [];
    private readonly Dictionary<(string SiteId, ThingRef Thing), int?> changed = [];
    private readonly HashSet<ThingRef> open = [];

    /// <summary>The things whose links are to be looked up next.</summary>
    public IReadOnlyCollection<ThingRef> Open => open;

    /// <summary>What is to be kept anew: a thing, a site, the steps between them, and whether the thing's earlier facts come to the site by it.</summary>
    public IEnumerable<(string SiteId, ThingRef Thing, int Steps, bool Brings)> Changed => changed.Select(pair => (
        pair.Key.SiteId, pair.Key.Thing, steps[pair.Key.Thing][pair.Key.SiteId], pair.Value is null && !IsOnTooMany(pair.Key.Thing)));

    /// <summary>Whether it was handed in what is kept of the thing.</summary>
    public bool Knows(ThingRef thing) => steps.ContainsKey(thing);

    /// <summary>The sites whose facts those of the thing are; none where it is on too many.</summary>
    public IReadOnlyCollection<string> SitesOf(ThingRef thing) =>
        steps.TryGetValue(thing, out var sites) && sites.Count <= MostSites ? sites.Keys : [];

    /// <summary>Hands in what is kept of a thing: the sites that it belongs to, with its steps from each.</summary>
    public void Know(ThingRef thing, IEnumerable<(string SiteId, int Steps)> kept)
    {
        if (steps.ContainsKey(thing)) return;
        steps[thing] = kept.ToDictionary(each => each.SiteId, each => each.Steps, StringComparer.Ordinal);
    }

    /// <summary>A fact that names the site touches the thing.</summary>
    public void Touch(string siteId, ThingRef thing) => Reaches(siteId, thing, 0);

    /// <summary>The things are linked; both must be known.</summary>
    public void Link(ThingRef one, ThingRef other)
    {
        // What a site's duct calls for stands in facts that name the site anyway.
        if (one.Kind == ThingKind.Site || other.Kind == ThingKind.Site) return;
        var step = one.Kind == other.Kind ? 0 : 1;
        Pass(one, other, step);
        Pass(other, one, step);
    }

    /// <summary>The links of the thing were handed in.</summary>
    public void Close(ThingRef thing) => open.Remove(thing);

    private bool IsOnTooMany(ThingRef thing) => steps[thing].Count > MostSites;

    private void Pass(ThingRef from, ThingRef to, int step)
    {
        if (IsOnTooMany(from)) return;
        foreach (var (siteId, away) in steps[from].ToArray())
            if (away + step <= MostSteps) Reaches(siteId, to, away + step);
    }

    private void Reaches(string siteId, ThingRef thing, int away)
    {
        var sites = steps[thing];
        int? before = sites.TryGetValue(siteId, out var kept) ? kept : null;
        if (before <= away || (before is null && away > 0 && IsOnTooMany(thing))) return;
        sites[siteId] = away;
        changed.TryAdd((siteId, thing), before);
        open.Add(thing);
    }
}
