using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.OpenData.Features;
using FleetLight.Service.Circuits;
using FleetLight.Service.Store;
using FleetLight.Service.Works;
using NetTopologySuite.Geometries;
using Npgsql;

namespace FleetLight.Service.OpenData;

/// <summary>Makes the features of things that changed, and of what leans on them, and writes those that are other than before.</summary>
public sealed class FeatureWriter(NpgsqlDataSource database, string organisation, ILogger log)
{
    private const string Alerts = $"{Tables.Schema}.mt_doc_alertdocument";
    private readonly StateRows states = new(database, organisation);
    private readonly List<(FeatureKind Kind, FeatureRow Row, string Owner, string? SiteId)> made = [];
    private readonly HashSet<string> owners = new(StringComparer.Ordinal);

    /// <summary>Writes them.</summary>
    public async Task WriteAsync(NpgsqlConnection connection, IReadOnlySet<(string Kind, string Id)> things)
    {
        string[] Of(string kind) => [.. things.Where(thing => thing.Kind == kind).Select(thing => thing.Id)];
        var ducts = await states.LoadAsync<DuctView>(StateKinds.Duct, Own(StateKinds.Duct, Of(StateKinds.Duct)), default);
        foreach (var duct in ducts.Values.Where(duct => duct.SameAs is null)) Add(FeatureKinds.Ducts, () => [FeatureMaker.Of(duct)], StateKinds.Duct, duct.Id, duct.SiteId);
        // A cable lies where its ducts lie.
        await CablesAsync([.. Of(StateKinds.Cable).Union(ducts.Values.SelectMany(duct => duct.CableIds), StringComparer.Ordinal)]);
        foreach (var box in (await states.LoadAsync<BoxView>(StateKinds.Box, Own(StateKinds.Box, Of(StateKinds.Box)), default)).Values.Where(box => box.SameAs is null))
            Add(FeatureKinds.Boxes, () => [FeatureMaker.Of(box)], StateKinds.Box, box.Id, box.SiteId);
        await CircuitsAsync(Of("circuit"));
        await AlertsAsync([.. Of("alert").Union(await AlertsOnAsync(things), StringComparer.Ordinal)]);
        await RemoveAsync(connection);
        await SaveAsync(connection);
    }

    /// <summary>Removes the features of things that are no longer, after all others were made anew.</summary>
    public static async Task RemoveOwnerlessAsync(NpgsqlConnection connection, string organisation)
    {
        await using var command = new NpgsqlCommand(
            $"""
            delete from {Tables.Schema}.fl_feature as f where tenant_id = $1 and case split_part(owner, ':', 1)
              when 'circuit' then not exists (select 1 from fl_circuit as c where c.tenant_id = $1 and c.id = substr(f.owner, 9))
              when 'alert' then not exists (select 1 from {Alerts} as a where a.tenant_id = $1 and a.id = substr(f.owner, 7))
              else not exists (select 1 from fl_state as s where s.tenant_id = $1 and s.kind = split_part(f.owner, ':', 1)
                and s.id = substr(f.owner, strpos(f.owner, ':') + 1)) end
            """, connection);
        command.CommandTimeout = 0;
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        await command.ExecuteNonQueryAsync();
    }

    private string[] Own(string kind, string[] ids)
    {
        foreach (var id in ids) owners.Add($"{kind}:{id}");
        return ids;
    }

    // One that cannot be made is left out and named in the log: all others of the organisation are there all the same.
    private void Add(FeatureKind kind, Func<IEnumerable<FeatureRow>> make, string ownerKind, string ownerId, string? siteId)
    {
        try
        {
            made.AddRange(make().Select(row => (kind, row, $"{ownerKind}:{ownerId}", siteId)));
        }
        catch (Exception fault) when (Poison.Is(fault, CancellationToken.None))
        {
            log.LogError(fault, "The open data of {Organisation} lack the {Collection} of {Kind} {Id}", organisation, kind.Id, ownerKind, ownerId);
        }
    }

    private async Task CablesAsync(string[] ids)
    {
        var cables = await states.LoadAsync<CableView>(StateKinds.Cable, Own(StateKinds.Cable, ids), default);
        var ducts = await states.LoadAsync<DuctView>(StateKinds.Duct, cables.Values.SelectMany(cable => cable.DuctIds).Distinct(StringComparer.Ordinal), default);
        foreach (var cable in cables.Values.Where(cable => cable.SameAs is null))
            Add(FeatureKinds.Cables, () => [FeatureMaker.Of(cable, ducts)], StateKinds.Cable, cable.Id, cable.SiteId);
    }

    private async Task CircuitsAsync(string[] ids)
    {
        var lines = await CircuitRows.LinesAsync(database, organisation, Own("circuit", ids), default);
        var bases = await states.LoadAsync<StampedBasis>(StateKinds.Basis, lines.Select(line => line.Id), default);
        foreach (var line in lines)
        {
            var basis = bases.GetValueOrDefault(line.Id)?.Basis;
            Add(FeatureKinds.Circuits, () => [FeatureMaker.Of(line, basis)], "circuit", line.Id, line.SiteId);
            Add(FeatureKinds.Drivers, () => [FeatureMaker.DriverOf(line, basis)], "circuit", line.Id, line.SiteId);
            Add(FeatureKinds.Fittings, () => FeatureMaker.FittingsOf(line, basis), "circuit", line.Id, line.SiteId);
        }
    }

    // Alerts that stand on what changed: it may have another position now.
    private async Task<List<string>> AlertsOnAsync(IReadOnlySet<(string Kind, string Id)> things)
    {
        await using var command = database.CreateCommand(
            $"""
            select id from {Tables.Schema}.fl_feature where tenant_id = $1 and collection = 'alerts'
              and ((properties ->> 'subjectKind') || ':' || (properties ->> 'subjectId') = any($2) or site_id = any($3))
            """);
        foreach (var value in (object[])
                 [
                     organisation, things.Select(thing => $"{thing.Kind}:{thing.Id}").ToArray(),
                     things.Where(thing => thing.Kind == StateKinds.Site).Select(thing => thing.Id).ToArray(),
                 ])
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync();
        var ids = new List<string>();
        while (await reader.ReadAsync()) ids.Add(reader.GetString(0));
        return ids;
    }

    private async Task AlertsAsync(string[] ids)
    {
        if (ids.Length == 0) return;
        Own("alert", ids);
        var alerts = new List<AlertView>();
        await using (var command = database.CreateCommand($"select data -> 'view' from {Alerts} where tenant_id = $1 and id = any($2) and data ->> 'standing' <> 'cleared'"))
        {
            command.Parameters.Add(new NpgsqlParameter { Value = organisation });
            command.Parameters.Add(new NpgsqlParameter { Value = ids });
            await using var reader = await command.ExecuteReaderAsync();
            while (await reader.ReadAsync())
                alerts.Add(System.Text.Json.JsonSerializer.Deserialize<AlertView>(reader.GetString(0), FleetLight.Contracts.Wire.WireJson.Lenient)!);
        }

        var subjects = alerts.ToLookup(alert => alert.Finding.Subject.Kind, alert => alert.Finding.Subject.Id);
        var ducts = await states.LoadAsync<DuctView>(StateKinds.Duct, subjects[ThingKind.Duct].Distinct(), default);
        var boxes = await states.LoadAsync<BoxView>(StateKinds.Box, subjects[ThingKind.Box].Distinct(), default);
        var circuits = await states.LoadAsync<StampedBasis>(StateKinds.Basis, subjects[ThingKind.Circuit].Distinct(), default);
        var sites = await states.LoadAsync<SiteView>(StateKinds.Site, alerts.Select(alert => alert.SiteId).Distinct(), default);
        foreach (var alert in alerts) Add(FeatureKinds.Alerts, () => [Of(alert)], "alert", alert.Id, alert.SiteId);

        FeatureRow Of(AlertView alert)
        {
            var id = alert.Finding.Subject.Id;
            var (shape, of) = alert.Finding.Subject.Kind switch
            {
                ThingKind.Duct => (Shapes.MiddleOf(Shapes.Of(ducts.GetValueOrDefault(id)?.Route)), StateKinds.Duct),
                ThingKind.Box => (Shapes.Of(boxes.GetValueOrDefault(id)?.Position), StateKinds.Box),
                ThingKind.Circuit => (Shapes.Of(circuits.GetValueOrDefault(id)?.Basis.DriverPosition), "circuit"),
                _ => ((Point?)null, StateKinds.Site),
            };
            if (shape is null) (shape, of) = (Shapes.Of(sites.GetValueOrDefault(alert.SiteId)?.Position), StateKinds.Site);
            return FeatureMaker.Of(alert, shape, of);
        }
    }

    // What the things had and have no more.
    private async Task RemoveAsync(NpgsqlConnection connection)
    {
        await using var command = new NpgsqlCommand(
            $"""
            delete from {Tables.Schema}.fl_feature as f where tenant_id = $1 and owner = any($2)
              and not exists (select 1 from unnest($3, $4) as made(collection, id) where made.collection = f.collection and made.id = f.id)
            """, connection);
        foreach (var value in (object[])[organisation, owners.ToArray(), made.Select(each => each.Kind.Id).ToArray(), made.Select(each => each.Row.Id).ToArray()])
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        await command.ExecuteNonQueryAsync();
    }

    private async Task SaveAsync(NpgsqlConnection connection)
    {
        if (made.Count == 0) return;
        var extents = made.Select(each => each.Row.Shape?.EnvelopeInternal).ToArray();
        await using var command = new NpgsqlCommand(
            $"""
            insert into {Tables.Schema}.fl_feature (tenant_id, collection, id, owner, site_id, extent, shape, properties)
            select $1, r.collection, r.id, r.owner, nullif(r.site_id, ''),
              case when r.left is not null then box(point(r.left, r.bottom), point(r.right, r.top)) end, nullif(r.shape, ''), r.properties::jsonb
            from unnest($2, $3, $4, $5, $6, $7, $8, $9, $10, $11) as r(collection, id, owner, site_id, "left", bottom, "right", top, shape, properties)
            on conflict (tenant_id, collection, id) do update set owner = excluded.owner, site_id = excluded.site_id, extent = excluded.extent,
              shape = excluded.shape, properties = excluded.properties
            where (fl_feature.owner, fl_feature.site_id, fl_feature.shape, fl_feature.properties)
              is distinct from (excluded.owner, excluded.site_id, excluded.shape, excluded.properties)
            """, connection);
        foreach (var value in (object[])
                 [
                     organisation,
                     made.Select(each => each.Kind.Id).ToArray(), made.Select(each => each.Row.Id).ToArray(), made.Select(each => each.Owner).ToArray(),
                     made.Select(each => each.SiteId ?? "").ToArray(),
                     extents.Select(each => each?.MinX).ToArray(), extents.Select(each => each?.MinY).ToArray(),
                     extents.Select(each => each?.MaxX).ToArray(), extents.Select(each => each?.MaxY).ToArray(),
                     made.Select(each => each.Row.Shape is { } shape ? FeatureJson.ShapeOf(shape) : "").ToArray(),
                     made.Select(each => FeatureJson.PropertiesOf(each.Kind, each.Row)).ToArray(),
                 ])
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        await command.ExecuteNonQueryAsync();
    }
}
