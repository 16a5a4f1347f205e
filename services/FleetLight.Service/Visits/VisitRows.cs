using System.Globalization;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Visits;
using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using FleetLight.Service.Works;
using JasperFx.Events;
using Npgsql;
using Weasel.Postgresql.Tables;

namespace FleetLight.Service.Visits;

/// <summary>Which visits are asked for.</summary>
/// <param name="From">On this day or later.</param>
/// <param name="To">On this day or earlier.</param>
/// <param name="Site">To this site.</param>
/// <param name="Source">For this device.</param>
/// <param name="SourceOrNone">For this device or for none.</param>
/// <param name="State">In this state.</param>
public sealed record VisitFilter(DateOnly? From, DateOnly? To, string? Site, string? Source, string? SourceOrNone, VisitState? State);

/// <summary>Visits as rows: the projection folds their events into them, and lists are read from there.</summary>
public static class VisitRows
{
    /// <summary>Name of the table: one that a rebuild makes again.</summary>
    public const string Name = "fl_visit";

    private const string Table = Name;

    /// <summary>The table.</summary>
    public static Table Visits(string schema = Tables.Schema) => Tables.Make(Name, schema, table =>
    {
        table.AddColumn<string>("tenant_id").AsPrimaryKey();
        table.AddColumn<string>("id").AsPrimaryKey();
        table.AddColumn("day", "date").NotNull();
        table.AddColumn<string>("state").NotNull();
        table.AddColumn<string>("site_id").NotNull();
        table.AddColumn<string>("source");
        table.AddColumn("alert_ids", "text[]").NotNull();
        table.AddColumn<string>("body").NotNull();
        table.Indexes.Add(new IndexDefinition("fl_visit_day") { Columns = ["tenant_id", "day", "id"] });
        table.Indexes.Add(new IndexDefinition("fl_visit_state") { Columns = ["tenant_id", "state", "day", "id"] });
    });

    /// <summary>Folds the page's events of visits into their rows.</summary>
    /// <returns>Each visit that changed, before and after.</returns>
    public static async Task<IReadOnlyList<(VisitView? Before, VisitView After)>> FoldAsync(
        NpgsqlDataSource database, PageWrites writes, string organisation, IReadOnlyList<IEvent> events, CancellationToken cancel)
    {
        IVisitEvent[] mine = [.. events.Select(each => each.Data).OfType<IVisitEvent>()];
        if (mine.Length == 0) return [];
        var before = await LoadAsync(database, organisation, [.. mine.Select(each => each.VisitId).Distinct(StringComparer.Ordinal)], cancel);
        var after = new Dictionary<string, VisitView>(before, StringComparer.Ordinal);
        foreach (var happened in mine)
            if (VisitFold.Apply(after.GetValueOrDefault(happened.VisitId), happened) is { } view) after[happened.VisitId] = view;
        foreach (var visit in after.Values) Save(writes, organisation, visit);
        return [.. after.Values.Select(visit => (before.GetValueOrDefault(visit.Id), visit))];
    }

    /// <summary>What the change feed tells of a page: the visits, the alerts that came to them or went, and the visits of alerts that changed.</summary>
    public static async Task<IEnumerable<(string Kind, string Id, string? SiteId)>> ChangesAsync(
        NpgsqlDataSource database, string organisation, IReadOnlyList<(VisitView? Before, VisitView After)> visits,
        IReadOnlyDictionary<string, AlertView> alerts, CancellationToken cancel)
    {
        HashSet<(string Kind, string Id, string? SiteId)> told = [];
        foreach (var (before, after) in visits)
        {
            told.Add(("visit", after.Id, after.SiteId));
            foreach (var alert in (before?.AlertIds ?? []).Union(after.AlertIds, StringComparer.Ordinal)) told.Add(("alert", alert, after.SiteId));
        }

        if (alerts.Count > 0)
        {
            foreach (var visit in (await PlannedForAsync(database, organisation, [.. alerts.Keys], cancel)).Values)
                told.Add(("visit", visit.Id, visit.SiteId));
        }

        return told;
    }

    /// <summary>The soonest planned visit of each of these alerts that has one.</summary>
    public static async Task<Dictionary<string, VisitView>> PlannedForAsync(
        NpgsqlDataSource database, string organisation, string[] alertIds, CancellationToken cancel)
    {
        var found = new Dictionary<string, VisitView>(StringComparer.Ordinal);
        if (alertIds.Length == 0) return found;
        var wanted = alertIds.ToHashSet(StringComparer.Ordinal);
        foreach (var visit in await ReadAsync(
                     database, $"select body from {Table} where tenant_id = $1 and state = 'planned' and alert_ids && $2 order by day, id",
                     cancel, organisation, alertIds))
        {
            foreach (var alert in visit.AlertIds.Where(wanted.Contains)) found.TryAdd(alert, visit);
        }

        return found;
    }

    /// <summary>Visits by day and id after one of them.</summary>
    public static Task<List<VisitView>> ListAsync(
        NpgsqlDataSource database, string organisation, VisitFilter filter, string after, int most, CancellationToken cancel)
    {
        var where = "tenant_id = $1";
        List<object> values = [organisation];
        if (TryPlace(after, out var day, out var id)) where += $" and (day, id) > ({Value(day)}, {Value(id)})";
        if (filter.From is { } from) where += $" and day >= {Value(from)}";
        if (filter.To is { } to) where += $" and day <= {Value(to)}";
        if (filter.Site is { } site) where += $" and site_id = {Value(site)}";
        if (filter.Source is { } source) where += $" and source = {Value(source)}";
        if (filter.SourceOrNone is { } own) where += $" and (source is null or source = {Value(own)})";
        if (filter.State is { } state) where += $" and state = {Value(Query.Word(state))}";
        return ReadAsync(database, $"select body from {Table} where {where} order by day, id limit {most}", cancel, [.. values]);

        string Value(object value)
        {
            values.Add(value);
            return string.Create(CultureInfo.InvariantCulture, $"${values.Count}");
        }
    }

    /// <summary>The place of a visit in the list.</summary>
    public static string PlaceOf(VisitView visit) => string.Create(CultureInfo.InvariantCulture, $"{visit.Day:yyyy-MM-dd} {visit.Id}");

    private static bool TryPlace(string after, out DateOnly day, out string id)
    {
        id = after.Length > 11 ? after[11..] : "";
        return DateOnly.TryParseExact(after.Length > 11 ? after[..10] : "", "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out day);
    }

    private static async Task<Dictionary<string, VisitView>> LoadAsync(NpgsqlDataSource database, string organisation, string[] ids, CancellationToken cancel) =>
        (await ReadAsync(database, $"select body from {Table} where tenant_id = $1 and id = any($2)", cancel, organisation, ids))
        .ToDictionary(visit => visit.Id, StringComparer.Ordinal);

    private static void Save(PageWrites writes, string organisation, VisitView visit) => writes.Sql(
        $"""
        insert into {Table} (tenant_id, id, day, state, site_id, source, alert_ids, body) values (?, ?, ?::date, ?, ?, nullif(?, ''), ?, ?)
        on conflict (tenant_id, id) do update set day = excluded.day, state = excluded.state, site_id = excluded.site_id,
          source = excluded.source, alert_ids = excluded.alert_ids, body = excluded.body
        """,
        organisation, visit.Id, visit.Day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), Query.Word(visit.State), visit.SiteId, visit.Source ?? "",
        visit.AlertIds.ToArray(), JsonSerializer.Serialize(visit, WireJson.Lenient));

    private static async Task<List<VisitView>> ReadAsync(NpgsqlDataSource database, string sql, CancellationToken cancel, params object[] values)
    {
        await using var command = database.CreateCommand(sql);
        foreach (var value in values) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var visits = new List<VisitView>();
        while (await reader.ReadAsync(cancel)) visits.Add(JsonSerializer.Deserialize<VisitView>(reader.GetString(0), WireJson.Lenient)!);
        return visits;
    }
}
