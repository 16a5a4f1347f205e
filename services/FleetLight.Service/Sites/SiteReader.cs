using System.Collections.Immutable;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;
using FleetLight.Record.Designs;
using FleetLight.Record.Files;
using FleetLight.Record.Sites;
using FleetLight.Service.Circuits;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Sites;

/// <summary>Reads what stands on a site, for whatever is worked out of all of it.</summary>
public sealed class SiteReader(NpgsqlDataSource database)
{
    /// <summary>The states of a site; none where nothing was recorded of it.</summary>
    public async Task<SiteStates?> FindAsync(string organisation, string id, CancellationToken cancel)
    {
        var rows = new StateRows(database, organisation);
        var circuits = await CircuitsAsync(rows, organisation, id, cancel);
        var states = new SiteStates
        {
            SiteId = id,
            Site = await rows.FindAsync<SiteView>(StateKinds.Site, id, cancel),
            Ducts = await rows.OfSiteAsync<DuctView>(StateKinds.Duct, id, cancel),
            Cables = await rows.OfSiteAsync<CableView>(StateKinds.Cable, id, cancel),
            Boxes = await rows.OfSiteAsync<BoxView>(StateKinds.Box, id, cancel),
            Circuits = circuits,
            Designs = await DesignsAsync(rows, [.. circuits.Select(circuit => circuit.Id)], cancel),
        };
        return states.Site is null && states.Ducts.Count + states.Cables.Count + states.Boxes.Count + circuits.Count == 0 ? null : states;
    }

    /// <summary>The states of the site that a circuit is on. A circuit without a site stands alone.</summary>
    public async Task<SiteStates> FindOfCircuitAsync(string organisation, CircuitBasis circuit, CancellationToken cancel) =>
        circuit.SiteId is { } site && await FindAsync(organisation, site, cancel) is { } states
            ? states
            : new SiteStates
            {
                SiteId = circuit.SiteId ?? "",
                Circuits = [CircuitJudge.Judge(circuit, ReadingWindow.Empty, explains: false)],
                Designs = await DesignsAsync(new StateRows(database, organisation), [circuit.Id], cancel),
            };

    /// <summary>The newest design of each of these circuits, by id; those without one are left out.</summary>
    public Task<Dictionary<string, CircuitDesigned>> DesignsAsync(string organisation, string[] circuits, CancellationToken cancel) =>
        DesignsAsync(new StateRows(database, organisation), circuits, cancel);

    /// <summary>The circuits of a site and their newest designs, in the order of their ids; none where nothing was recorded of the site.</summary>
    public async Task<IReadOnlyList<CircuitDesigned>?> DesignsOfSiteAsync(string organisation, string id, CancellationToken cancel)
    {
        var lines = await CircuitRows.ListAsync(database, organisation, "", int.MaxValue, cancel, site: id);
        var rows = new StateRows(database, organisation);
        if (lines.Count == 0 && await rows.FindAsync<SiteView>(StateKinds.Site, id, cancel) is null) return null;
        var designs = await DesignsAsync(rows, [.. lines.Select(line => line.Id)], cancel);
        return [.. designs.Values.OrderBy(design => design.CircuitId, StringComparer.Ordinal)];
    }

    private async Task<IReadOnlyList<CircuitView>> CircuitsAsync(StateRows states, string organisation, string site, CancellationToken cancel)
    {
        var lines = await CircuitRows.ListAsync(database, organisation, "", int.MaxValue, cancel, site: site);
        string[] ids = [.. lines.Select(line => line.Id)];
        var rows = await CircuitRows.LoadAsync(database, organisation, ids, cancel);
        var bases = await states.LoadAsync<StampedBasis>(StateKinds.Basis, ids, cancel);
        return
        [
            .. ids.Where(id => rows.ContainsKey(id) && bases.ContainsKey(id)).Select(id =>
                CircuitJudge.Judge(bases[id].Basis, rows[id].Recent.Window, rows[id].Judged, explains: false, rows[id].Recent.History)),
        ];
    }

    private static async Task<Dictionary<string, CircuitDesigned>> DesignsAsync(StateRows states, string[] circuits, CancellationToken cancel)
    {
        var keys = circuits.Select(id => ThingKeys.Of(ThingKind.Circuit, id));
        var designs = new Dictionary<string, CircuitDesigned>(StringComparer.Ordinal);
        foreach (var (key, facts) in await states.LoadAsync<RecordedFact[]>(StateKinds.File, keys, cancel))
        {
            var id = ThingKeys.Read(key).Id;
            if (RecordedDesign.Of(new ThingFile(ThingKind.Circuit, id, ImmutableArray.Create(facts))) is { } design) designs[id] = design;
        }

        return designs;
    }
}
