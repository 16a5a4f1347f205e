using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Alerts;
using FleetLight.Record.Handover;
using FleetLight.Service.Access;
using FleetLight.Service.Alerts;
using FleetLight.Service.FactLists;
using FleetLight.Service.Judgement;
using FleetLight.Service.Store;
using FleetLight.Service.Works;
using Marten;
using Npgsql;

namespace FleetLight.Service.Handover;

/// <summary>Gathers what a handover pack is made of: facts, the settings in force, and the names of who recorded.</summary>
public sealed class HandoverDesk(NpgsqlDataSource database, IDocumentStore store, FactQuery facts)
{
    /// <summary>Most facts behind one pack: some hundred times those of a garden.</summary>
    public const int MostFacts = 20_000;

    /// <summary>The facts of a site and of all that its things lean on; none where there are more than a pack takes.</summary>
    public Task<IReadOnlyList<RecordedFact>?> FactsAsync(string organisation, string site, CancellationToken cancel) =>
        facts.WholeAsync(organisation, FactList.OfSite(site), MostFacts, cancel);

    /// <summary>The wish with what the organisation set and calls its devices.</summary>
    public async Task<HandoverWish> CompleteAsync(HandoverWish wish, string organisation, IReadOnlyList<RecordedFact> recorded, CancellationToken cancel) => wish with
    {
        Judging = await JudgingEvents.InForceAsync(new StateRows(database, organisation), cancel),
        Names = await DeviceNames.OfAsync(store, organisation, recorded.Select(fact => fact.Of.Source), cancel),
        Notes = await NotesAsync(wish, organisation, cancel),
    };

    private async Task<IReadOnlyList<HandoverNote>> NotesAsync(HandoverWish wish, string organisation, CancellationToken cancel)
    {
        await using var session = store.QuerySession(organisation);
        // An alert that was cleared since may still have stood, noted, on a day of the past.
        var past = wish.AsOf is not null || wish.KnownBy is not null;
        var alerts = await session.Query<AlertDocument>()
            .Where(alert => alert.SiteId == wish.SiteId && (past || alert.Standing == AlertStanding.Acknowledged))
            .OrderBy(alert => alert.Id).Select(alert => alert.Id).ToListAsync(cancel);
        string[] streams = [.. alerts.Select(AlertEvents.StreamOf)];
        var events = await session.Events.QueryAllRawEvents().Where(each => each.StreamKey!.IsOneOf(streams)).OrderBy(each => each.Sequence).ToListAsync(cancel);
        DateTimeOffset? until = wish.AsOf is { } asOf && wish.KnownBy is { } knownBy ? (asOf < knownBy ? asOf : knownBy) : wish.AsOf ?? wish.KnownBy;
        return [.. events.GroupBy(each => each.StreamKey).SelectMany(each => AlertNotes.Of(each.Select(one => one.Data).OfType<IAlertEvent>(), until))];
    }
}
