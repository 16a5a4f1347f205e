using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Service.Circuits;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Sites;

/// <summary>Everything on a site.</summary>
/// <param name="Site">The site.</param>
/// <param name="Ducts">Its ducts.</param>
/// <param name="Cables">Its cables.</param>
/// <param name="Boxes">Its boxes.</param>
/// <param name="Circuits">Its circuits, a line each.</param>
/// <param name="Bases">What follows for them from all but their readings, by id.</param>
public sealed record SiteThings(
    SiteView? Site, IReadOnlyList<DuctView> Ducts, IReadOnlyList<CableView> Cables, IReadOnlyList<BoxView> Boxes,
    IReadOnlyList<CircuitLine> Circuits, IReadOnlyDictionary<string, CircuitBasis> Bases)
{
    /// <summary>Whether nothing is known of the site.</summary>
    public bool IsNothing => Site is null && Ducts.Count + Cables.Count + Boxes.Count + Circuits.Count == 0;

    /// <summary>As it is now.</summary>
    public static async Task<SiteThings> NowAsync(NpgsqlDataSource database, string organisation, string id, CancellationToken cancel)
    {
        var states = new StateRows(database, organisation);
        var bases = await states.OfSiteAsync<StampedBasis>(StateKinds.Basis, id, cancel);
        return new SiteThings(
            await states.FindAsync<SiteView>(StateKinds.Site, id, cancel),
            await states.OfSiteAsync<DuctView>(StateKinds.Duct, id, cancel),
            await states.OfSiteAsync<CableView>(StateKinds.Cable, id, cancel),
            await states.OfSiteAsync<BoxView>(StateKinds.Box, id, cancel),
            await CircuitRows.ListAsync(database, organisation, "", int.MaxValue, cancel, site: id),
            bases.ToDictionary(basis => basis.Basis.Id, basis => basis.Basis, StringComparer.Ordinal));
    }
}
