using System.Text.Json;
using FleetLight.Contracts.Wire;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>Kinds of state that are kept as rows.</summary>
public static class StateKinds
{
    /// <summary>States of sites.</summary>
    public const string Site = "site";

    /// <summary>States of ducts.</summary>
    public const string Duct = "duct";

    /// <summary>States of cables.</summary>
    public const string Cable = "cable";

    /// <summary>States of boxes.</summary>
    public const string Box = "box";

    /// <summary>What follows for circuits from every fact but their readings.</summary>
    public const string Basis = "basis";

    /// <summary>The settings of judging in force, under <see cref="Settings"/>.</summary>
    public const string Judging = "judging";

    /// <summary>The id of what there is one of in an organisation.</summary>
    public const string Settings = "settings";

    /// <summary>The files of all things, under <c>kind:id</c>.</summary>
    public const string File = "file";
}

/// <summary>
/// States as rows: a kind, an id, a site and the state as JSON text, which is only given back and never looked into. A page
/// of the projection writes all its rows in one statement; as documents, one statement each, they cost the database three
/// times as much.
/// </summary>
public sealed class StateRows(NpgsqlDataSource database, string organisation)
{
    private const string Table = "fl_state";
    private const string Select = $"select id, body from {Table} where tenant_id = $1";
    private readonly Dictionary<(string Kind, string Id), (string? SiteId, string Body, string? Line)> written = [];

    /// <summary>Keeps a state with the page's other changes.</summary>
    /// <param name="kind">Kind of state.</param>
    /// <param name="id">Its id.</param>
    /// <param name="siteId">Its site, where it has one.</param>
    /// <param name="state">The state.</param>
    /// <param name="line">What a list says of it, as JSON, for kinds of which lists are made from rows.</param>
    public void Keep<T>(string kind, string id, string? siteId, T state, string? line = null) =>
        written[(kind, id)] = (siteId, JsonSerializer.Serialize(state, WireJson.Lenient), line);

    /// <summary>Writes what was kept.</summary>
    public void Save(PageWrites writes)
    {
        if (written.Count == 0) return;
        writes.Sql(
            $"""
            insert into {Table} (tenant_id, kind, id, site_id, body, line)
            select ?, r.kind, r.id, nullif(r.site_id, ''), r.body, nullif(r.line, '') from unnest(?, ?, ?, ?, ?) as r(kind, id, site_id, body, line)
            on conflict (tenant_id, kind, id) do update set site_id = excluded.site_id, body = excluded.body, line = excluded.line
            """,
            organisation,
            written.Keys.Select(key => key.Kind).ToArray(),
            written.Keys.Select(key => key.Id).ToArray(),
            written.Values.Select(value => value.SiteId ?? "").ToArray(),
            written.Values.Select(value => value.Body).ToArray(),
            written.Values.Select(value => value.Line ?? "").ToArray());
    }

    /// <summary>One state.</summary>
    public async Task<T?> FindAsync<T>(string kind, string id, CancellationToken cancel) where T : class =>
        (await LoadAsync<T>(kind, [id], cancel)).GetValueOrDefault(id);

    /// <summary>States by id; those that are not kept are left out.</summary>
    public Task<Dictionary<string, T>> LoadAsync<T>(string kind, IEnumerable<string> ids, CancellationToken cancel) =>
        // One look into the index for each id, as in DeviceRows.
        ReadAsync<T>(
            $"select s.id, s.body from unnest($3) as wanted(id) cross join lateral "
            + $"(select id, body from {Table} where tenant_id = $1 and kind = $2 and id = wanted.id offset 0) as s", cancel, kind, ids.ToArray());

    /// <summary>States of a site, in the order of their ids.</summary>
    public async Task<IReadOnlyList<T>> OfSiteAsync<T>(string kind, string siteId, CancellationToken cancel) =>
        [.. (await ReadAsync<T>($"{Select} and kind = $2 and site_id = $3 order by id", cancel, kind, siteId)).Values];

    /// <summary>States after an id, in the order of their ids.</summary>
    public async Task<IReadOnlyList<T>> ListAsync<T>(string kind, string after, int most, CancellationToken cancel) =>
        [.. (await ReadAsync<T>($"{Select} and kind = $2 and id > $3 order by id limit $4", cancel, kind, after, most)).Values];

    private async Task<Dictionary<string, T>> ReadAsync<T>(string sql, CancellationToken cancel, params object[] values)
    {
        await using var command = database.CreateCommand(sql);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        foreach (var value in values) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var states = new Dictionary<string, T>(StringComparer.Ordinal);
        while (await reader.ReadAsync(cancel))
            states[reader.GetString(0)] = JsonSerializer.Deserialize<T>(reader.GetString(1), WireJson.Lenient)!;
        return states;
    }
}
