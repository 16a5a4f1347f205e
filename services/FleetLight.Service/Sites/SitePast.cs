using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Service.Circuits;
using FleetLight.Service.FactLists;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Sites;

/// <summary>Everything on a site as it was.</summary>
public sealed class SitePast(NpgsqlDataSource database, CircuitHistory circuits, FactQuery facts)
{
    /// <summary>
    /// As it was; none while it is not known which things ever belonged to the site. Every thing that ever did is folded from what had
    /// happened, and was known, by then; what was on another site then is left out.
    /// </summary>
    public async Task<SiteThings?> AsOfAsync(string organisation, string id, DateTimeOffset? asOf, DateTimeOffset? knownBy, CancellationToken cancel)
    {
        if (await facts.EditionAsync(cancel) is null) return null;
        var ever = await EverAsync(organisation, id, cancel);
        var past = await circuits.OpenAsync(organisation, asOf, knownBy, cancel);
        var built = await past.UntilWholeAsync(
            works => (
                Site: works.SiteOf(id),
                Ducts: Of(ThingKind.Duct, works.DuctOf),
                Cables: Of(ThingKind.Cable, works.CableOf),
                Boxes: Of(ThingKind.Box, works.BoxOf)),
            cancel);
        string[] ids = [.. ever.Where(thing => thing.Kind == ThingKind.Circuit).Select(thing => thing.Id)];
        var judged = (await circuits.AsOfAsync(past, organisation, ids, asOf, knownBy, explains: false, cancel))
            .Where(each => each.View.SiteId == id).ToArray();
        return new SiteThings(
            built.Site, built.Ducts, built.Cables, built.Boxes,
            [.. judged.Select(each => CircuitLines.Of(each.Basis, each.View))],
            judged.ToDictionary(each => each.Basis.Id, each => each.Basis, StringComparer.Ordinal));

        TView[] Of<TView>(ThingKind kind, Func<string, TView?> find) where TView : ThingView =>
            [.. ever.Where(thing => thing.Kind == kind).Select(thing => find(thing.Id)).OfType<TView>().Where(view => view.SiteId == id)];
    }

    private async Task<List<ThingRef>> EverAsync(string organisation, string id, CancellationToken cancel)
    {
        await using var command = database.CreateCommand("select thing from fl_site_thing where tenant_id = $1 and site_id = $2");
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = id });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var things = new List<ThingRef>();
        while (await reader.ReadAsync(cancel)) things.Add(ThingKeys.Read(reader.GetString(0)));
        return [.. things.OrderBy(thing => thing.Id, StringComparer.Ordinal)];
    }
}
