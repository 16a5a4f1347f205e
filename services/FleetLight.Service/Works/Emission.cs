using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Alerts;
using FleetLight.Service.Alerts;
using FleetLight.Service.Photos;
using FleetLight.Service.Store;
using FleetLight.Service.Sync;
using FleetLight.Service.Visits;
using JasperFx.Events;
using Marten;
using Marten.Events;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>
/// What a page tells the world, written in the page's own transaction: the change feed, alert events, deliveries. Through
/// which event an organisation was told is kept beside it, so a rebuild of the projection says nothing twice.
/// </summary>
public sealed class Emission(IQuerySession session, PageWrites writes, string organisation, long pageStart, long pageEnd, PageParts parts)
{
    private readonly List<(string Kind, string Id, string? SiteId)> changes = [];
    private readonly List<(ThingRef Thing, string? SiteId, IReadOnlyList<Finding> Before, IReadOnlyList<Finding> After, IReadOnlyList<string> KnownBy)> findings = [];
    private long emittedThrough;

    // A rebuild comes to the end of what was told before: the page holds events on both sides of it.
    private bool ReachesBack => pageStart <= emittedThrough && emittedThrough < pageEnd;

    /// <summary>Looks up through which event the organisation was told.</summary>
    public async Task BeginAsync(CancellationToken cancel)
    {
        if (parts.IsSilent)
        {
            // As if all had been told before.
            emittedThrough = long.MaxValue;
            return;
        }

        await using var command = parts.Database.CreateCommand($"select through from {Tables.Schema}.fl_emitted where tenant_id = $1");
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        emittedThrough = await command.ExecuteScalarAsync(cancel) as long? ?? 0;
    }

    /// <summary>A thing's state changed, by these facts of the page where they are its own.</summary>
    public void Changed(
        ThingKind kind, string id, string? siteId, IReadOnlyList<Finding> before, IReadOnlyList<Finding> after, IReadOnlyList<string> knownBy)
    {
        changes.Add((ThingKeys.NameOf(kind), id, siteId));
        if (ReachesBack || before.Count > 0 || after.Count > 0) findings.Add((new ThingRef(kind, id), siteId, before, after, knownBy));
    }

    /// <summary>Folds the page's alert events, decides which alerts follow from its changes, and writes it all.</summary>
    public async Task CompleteAsync(IReadOnlyList<IEvent> events, DateTimeOffset knownAt, CancellationToken cancel)
    {
        var alerts = await FoldAlertsAsync(events, cancel);
        var visits = await VisitRows.FoldAsync(parts.Database, writes, organisation, events, cancel);
        // Everything in the page was told before: a rebuild is on its way past it.
        if (pageEnd <= emittedThrough) return;

        foreach (var alert in alerts.Values) changes.Add(("alert", alert.Id, alert.SiteId));
        changes.AddRange(await VisitRows.ChangesAsync(parts.Database, organisation, visits, alerts, cancel));
        changes.AddRange(events.Select(each => each.Data).OfType<AttachmentKept>().Select(kept => ("attachment", kept.Sha256, (string?)null)));
        Decide(ReachesBack ? await ToldAsync(alerts, cancel) : null, knownAt);
        await DeliveryDesk.QueueAsync(session, writes, organisation, events.Where(each => each.Sequence > emittedThrough), alerts, cancel);
        WriteChanges();
    }

    private async Task<Dictionary<string, AlertView>> FoldAlertsAsync(IReadOnlyList<IEvent> events, CancellationToken cancel)
    {
        var mine = events.Where(each => each.Data is IAlertEvent).ToArray();
        if (mine.Length == 0) return [];
        var ids = mine.Select(each => AlertEvents.AlertOf(each.StreamKey!)).Distinct(StringComparer.Ordinal).ToArray();
        var alerts = (await session.LoadManyAsync<AlertDocument>(cancel, ids)).ToDictionary(doc => doc.Id, doc => doc.View, StringComparer.Ordinal);
        foreach (var each in mine)
        {
            var id = AlertEvents.AlertOf(each.StreamKey!);
            if (AlertFold.Apply(alerts.GetValueOrDefault(id), (IAlertEvent)each.Data) is { } view) alerts[id] = view;
        }

        foreach (var view in alerts.Values) writes.Store(AlertEvents.Document(view));
        return alerts;
    }

    // In a page that reaches back into what was told before, the states before it are no measure: there what was found
    // before is what the alerts that stand say. Elsewhere the findings are, for they are never behind.
    private void Decide(ILookup<ThingRef, Finding>? told, DateTimeOffset knownAt)
    {
        foreach (var (thing, siteId, before, after, knownBy) in findings)
        {
            var stood = told is null ? before : [.. told[thing]];
            foreach (var decided in AlertDecider.Decide(organisation, siteId ?? "", stood, after, knownAt, knownBy))
            {
                writes.Append(AlertEvents.StreamOf(decided.AlertId), decided);
                writes.Tell(() => parts.Watch.Decided(organisation, decided, knownBy));
            }
        }
    }

    private async Task<ILookup<ThingRef, Finding>> ToldAsync(Dictionary<string, AlertView> page, CancellationToken cancel)
    {
        var documents = await session.Query<AlertDocument>().Where(alert => alert.Standing != AlertStanding.Cleared).ToListAsync(cancel);
        var told = documents.ToDictionary(document => document.Id, document => document.View, StringComparer.Ordinal);
        foreach (var (id, view) in page) told[id] = view;
        // What was told last may stand in the store beyond the end of this page.
        var beyond = await session.Events.QueryAllRawEvents()
            .Where(each => each.Sequence > pageEnd && each.EventTypesAre(typeof(AlertRaised), typeof(AlertUpdated), typeof(AlertCleared)))
            .OrderBy(each => each.Sequence).ToListAsync(cancel);
        foreach (var happened in beyond.Select(each => each.Data).OfType<IAlertEvent>())
        {
            if (AlertFold.Apply(told.GetValueOrDefault(happened.AlertId), happened) is { } view) told[happened.AlertId] = view;
        }

        return told.Values.Where(alert => alert.Standing != AlertStanding.Cleared).ToLookup(alert => alert.Finding.Subject, alert => alert.Finding);
    }

    private void WriteChanges()
    {
        writes.Sql(
            $"""
            insert into {Tables.Schema}.fl_emitted (tenant_id, through) values (?, ?)
            on conflict (tenant_id) do update set through = greatest(fl_emitted.through, excluded.through)
            """,
            organisation, pageEnd);
        if (changes.Count == 0) return;
        writes.Sql(
            $"insert into {Tables.Schema}.fl_change (tenant_id, position, ordinal, kind, thing_id, site_id) select ?, ?, c.* from unnest(?, ?, ?, ?) as c on conflict do nothing",
            organisation, pageEnd,
            Enumerable.Range(0, changes.Count).ToArray(),
            changes.Select(change => change.Kind).ToArray(),
            changes.Select(change => change.Id).ToArray(),
            changes.Select(change => change.SiteId ?? "").ToArray());
        writes.Sql($"notify {ChangeFollower.Channel}");
    }
}
