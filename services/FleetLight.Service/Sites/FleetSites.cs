using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Service.FactLists;
using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Sites;

/// <summary>The sites of the fleet, a line each. What is counted is counted for the sites of the page only, along indexes.</summary>
public sealed class FleetSites(NpgsqlDataSource database)
{
    private const string Alerts = $"{Tables.Schema}.mt_doc_alertdocument";

    /// <summary>Lines after a site, in the order of their ids.</summary>
    /// <param name="organisation">The organisation.</param>
    /// <param name="after">The site after which to begin.</param>
    /// <param name="most">Most lines.</param>
    /// <param name="search">A text in the id, name or place; any if null.</param>
    /// <param name="verdict">A verdict that one of its circuits has; any if null.</param>
    /// <param name="severity">Severity of an alert that stands; any if null.</param>
    /// <param name="cancel">Cancels.</param>
    public async Task<List<FleetSiteLine>> ListAsync(
        string organisation, string after, int most, string? search, CircuitVerdict? verdict, AlertSeverity? severity, CancellationToken cancel)
    {
        await using var command = database.CreateCommand();
        var where = "true";
        foreach (var value in (object[])[organisation, after, most]) Value(value);
        if (!string.IsNullOrEmpty(search))
            where += $" and position({Value(search.ToLowerInvariant())} in lower(concat_ws(' ', every.id, s.line ->> 'name', s.line ->> 'place'))) > 0";
        if (verdict is { } v)
            where += $" and exists (select 1 from fl_circuit as c where c.tenant_id = $1 and c.site_id = every.id and c.verdict = {Value(Query.Word(v))})";
        if (severity is { } a)
            where += $" and exists (select 1 from {Alerts} as a where {Standing("every")} and a.data ->> 'severity' = {Value(Query.Word(a))})";
        // Without a condition a page's worth of either is enough.
        var (page, steps) = where == "true" ? (" order by id limit $3", " and step.nth < $3") : ("", "");
        // Where nobody recorded that work began, a site is known by its circuits. Their sites are found one by one along the index: there are
        // far fewer of them than circuits, and DISTINCT reads all circuits.
        command.CommandText =
            $"""
            with recursive step as (
              (select site_id, 1 as nth from fl_circuit where tenant_id = $1 and site_id > $2 order by site_id limit 1)
              union all select (select c.site_id from fl_circuit as c where c.tenant_id = $1 and c.site_id > step.site_id order by c.site_id limit 1), step.nth + 1
              from step where step.site_id is not null{steps}),
            every as ((select id from fl_state where tenant_id = $1 and kind = 'site' and id > $2{page}) union select site_id from step where site_id is not null),
            page as (
              select every.id, s.line from every left join lateral (
                select coalesce(line, body)::jsonb as line from fl_state where tenant_id = $1 and kind = 'site' and fl_state.id = every.id) as s on true
              where {where} order by every.id limit $3)
            select id, line ->> 'name', line ->> 'place', (line -> 'position')::text,
              (select jsonb_agg(jsonb_build_array(phase, verdict, n)) from (
                select phase, verdict, count(*) as n from fl_circuit where tenant_id = $1 and site_id = page.id group by 1, 2) as c)::text,
              (select jsonb_object_agg(severity, n) from (
                select a.data ->> 'severity' as severity, count(*) as n from {Alerts} as a where {Standing("page")} group by 1) as d)::text,
              (select happened_at from fl_fact where tenant_id = $1 and list = '{FactList.OfSite("")}' || page.id order by happened_at desc limit 1)
            from page order by id
            """;
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var lines = new List<FleetSiteLine>();
        while (await reader.ReadAsync(cancel)) lines.Add(Read(reader));
        return lines;

        static string Standing(string of) => $"a.tenant_id = $1 and a.site_id = {of}.id and a.data ->> 'standing' <> 'cleared'";

        string Value(object value)
        {
            command.Parameters.Add(new NpgsqlParameter { Value = value });
            return $"${command.Parameters.Count}";
        }
    }

    private static FleetSiteLine Read(NpgsqlDataReader reader)
    {
        var (phases, verdicts) = (new SortedDictionary<string, long>(StringComparer.Ordinal), new SortedDictionary<string, long>(StringComparer.Ordinal));
        foreach (var group in Text(4) is { } counted ? JsonSerializer.Deserialize<JsonElement[][]>(counted)! : [])
        {
            var count = group[2].GetInt64();
            Add(phases, group[0].GetString()!, count);
            Add(verdicts, group[1].GetString()!, count);
        }

        return new FleetSiteLine
        {
            Id = reader.GetString(0),
            Name = Text(1),
            Place = Text(2),
            Position = SiteLines.Position(Text(3)),
            Circuits = phases.Values.Sum(),
            CircuitsByPhase = phases,
            CircuitsByVerdict = verdicts,
            OpenAlertsBySeverity = Text(5) is { } alerts ? JsonSerializer.Deserialize<SortedDictionary<string, long>>(alerts)! : [],
            LastFactAt = reader.IsDBNull(6) ? null : reader.GetFieldValue<DateTimeOffset>(6),
        };

        string? Text(int column) => reader.IsDBNull(column) ? null : reader.GetString(column);
    }

    private static void Add(SortedDictionary<string, long> counts, string word, long count) => counts[word] = counts.GetValueOrDefault(word) + count;
}
