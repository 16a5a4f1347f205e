using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;
using FleetLight.Service.Hosting;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Circuits;

/// <summary>
/// The rows of circuits' states. They are the most often written of all states, with every reading, so a page writes all
/// of its rows in one statement, and what is only given back stands as text.
/// </summary>
public static class CircuitRows
{
    private const string Table = "fl_circuit";

    private static readonly JsonSerializerOptions Kept = MakeOptions();

    /// <summary>Writes rows with the session's other changes.</summary>
    public static void Save(PageWrites writes, string organisation, IReadOnlyCollection<CircuitRow> rows)
    {
        if (rows.Count == 0) return;
        writes.Sql(
            $"""
            insert into {Table} (tenant_id, id, site_id, phase, verdict, rules, line, basis_stamp, readings, history, judged, findings, search)
            select ?, r.id, nullif(r.site_id, ''), r.phase, r.verdict, string_to_array(r.rules, ' '), r.line, r.basis_stamp, r.readings, r.history, r.judged, r.findings, r.search
            from unnest(?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
              as r(id, site_id, phase, verdict, rules, line, basis_stamp, readings, history, judged, findings, search)
            on conflict (tenant_id, id) do update set site_id = excluded.site_id, phase = excluded.phase, verdict = excluded.verdict,
              rules = excluded.rules, line = excluded.line, basis_stamp = excluded.basis_stamp, readings = excluded.readings,
              history = excluded.history, judged = excluded.judged, findings = excluded.findings,
              search = excluded.search
            """,
            organisation,
            Texts(rows, row => row.Line.Id),
            Texts(rows, row => row.Line.SiteId ?? ""),
            Texts(rows, row => Query.Word(row.Line.Phase)),
            Texts(rows, row => Query.Word(row.Line.Verdict)),
            Texts(rows, row => string.Join(' ', row.Line.Rules)),
            Texts(rows, row => JsonSerializer.Serialize(row.Line, Kept)),
            Texts(rows, row => row.BasisStamp),
            Texts(rows, row => JsonSerializer.Serialize(row.Recent.Window, Kept)),
            Texts(rows, row => JsonSerializer.Serialize(row.Recent.History, Kept)),
            Texts(rows, row => row.Judged.ToText(row.Recent.Window)),
            Texts(rows, row => JsonSerializer.Serialize(row.Findings, Kept)),
            Texts(rows, row => $"{row.Line.Id} {row.Line.Name}".ToLowerInvariant()));
    }

    /// <summary>The rows of these circuits, by id.</summary>
    public static async Task<Dictionary<string, CircuitRow>> LoadAsync(
        NpgsqlDataSource database, string organisation, string[] ids, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select c.line, c.basis_stamp, c.readings, c.judged, c.findings, c.history from unnest($2) as wanted(id) cross join lateral
            (select line, basis_stamp, readings, judged, findings, history from {Table} where tenant_id = $1 and id = wanted.id offset 0) as c
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = ids });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var rows = new Dictionary<string, CircuitRow>(StringComparer.Ordinal);
        while (await reader.ReadAsync(cancel))
        {
            var window = JsonSerializer.Deserialize<ReadingWindow>(reader.GetString(2), Kept)!;
            var row = new CircuitRow(
                JsonSerializer.Deserialize<CircuitLine>(reader.GetString(0), Kept)!,
                reader.GetString(1),
                new RecentReadings(window, reader.IsDBNull(5) ? null : JsonSerializer.Deserialize<ReadingHistory>(reader.GetString(5), Kept)),
                KeptJudgements.FromText(reader.IsDBNull(3) ? null : reader.GetString(3), window),
                JsonSerializer.Deserialize<Finding[]>(reader.GetString(4), Kept)!);
            rows[row.Line.Id] = row;
        }

        return rows;
    }

    /// <summary>What lists say of these circuits, without their readings and judgements.</summary>
    public static async Task<List<CircuitLine>> LinesAsync(NpgsqlDataSource database, string organisation, string[] ids, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select c.line from unnest($2) as wanted(id) cross join lateral (select line from {Table} where tenant_id = $1 and id = wanted.id offset 0) as c
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = ids });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var lines = new List<CircuitLine>();
        while (await reader.ReadAsync(cancel)) lines.Add(JsonSerializer.Deserialize<CircuitLine>(reader.GetString(0), Kept)!);
        return lines;
    }

    /// <summary>The ids of all circuits, in order.</summary>
    public static async Task<List<string>> IdsAsync(NpgsqlDataSource database, string organisation, CancellationToken cancel)
    {
        await using var command = database.CreateCommand($"select id from {Table} where tenant_id = $1 order by id");
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var ids = new List<string>();
        while (await reader.ReadAsync(cancel)) ids.Add(reader.GetString(0));
        return ids;
    }

    /// <summary>Lines in the order of their ids after one of them, filtered by what is given.</summary>
    public static async Task<List<CircuitLine>> ListAsync(
        NpgsqlDataSource database, string organisation, string after, int most, CancellationToken cancel,
        string? site = null, CircuitPhase? phase = null, CircuitVerdict? verdict = null, string? rule = null, string? search = null)
    {
        await using var command = database.CreateCommand();
        var where = "tenant_id = $1 and id > $2";
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = after });
        foreach (var (column, value) in new[]
                 {
                     ("site_id =", site), ("phase =", phase is { } p ? Query.Word(p) : null), ("verdict =", verdict is { } v ? Query.Word(v) : null),
                     ("rules @> array", rule),
                 })
        {
            if (value is null) continue;
            command.Parameters.Add(new NpgsqlParameter { Value = value });
            where += column.EndsWith("array", StringComparison.Ordinal)
                ? $" and {column}[${command.Parameters.Count}::text]"
                : $" and {column} ${command.Parameters.Count}";
        }

        if (!string.IsNullOrEmpty(search))
        {
            command.Parameters.Add(new NpgsqlParameter { Value = search.ToLowerInvariant() });
            where += $" and position(${command.Parameters.Count} in coalesce(search, lower(concat_ws(' ', id, line::jsonb ->> 'name')))) > 0";
        }

        command.CommandText =
            $"""
            select line, (select coalesce(s.line, s.body)::jsonb ->> 'name' from fl_state as s where s.tenant_id = $1 and s.kind = 'site' and s.id = {Table}.site_id)
            from {Table} where {where} order by id limit {most}
            """;
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var lines = new List<CircuitLine>();
        while (await reader.ReadAsync(cancel))
        {
            var line = JsonSerializer.Deserialize<CircuitLine>(reader.GetString(0), Kept)!;
            lines.Add(reader.IsDBNull(1) ? line : line with { SiteName = reader.GetString(1) });
        }

        return lines;
    }

    private static string[] Texts(IReadOnlyCollection<CircuitRow> rows, Func<CircuitRow, string> text) => [.. rows.Select(text)];

    private static JsonSerializerOptions MakeOptions()
    {
        var options = new JsonSerializerOptions(WireJson.Lenient);
        options.Converters.Add(new WindowConverter());
        options.Converters.Add(new HistoryConverter());
        options.MakeReadOnly();
        return options;
    }
}
