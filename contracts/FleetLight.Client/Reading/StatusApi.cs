using System.Net;
using System.Text.Json;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Reading;

/// <summary>A state with the tag that changes whenever it does.</summary>
/// <typeparam name="T">What it is the state of.</typeparam>
/// <param name="View">The state.</param>
/// <param name="Tag">Its tag (ETag); none where the service gives none.</param>
public sealed record Tagged<T>(T View, string? Tag);

/// <summary>The state of sites, circuits, ducts, cables and boxes, and the alerts. Verdicts are advice, never a certificate.</summary>
public sealed class StatusApi
{
    private readonly Transport transport;

    internal StatusApi(Transport transport) => this.transport = transport;

    /// <summary>Every site, page after page.</summary>
    public IAsyncEnumerable<SiteView> SitesAsync(CancellationToken cancel = default) => ListAsync<SiteView>("v1/sites", cancel);

    /// <summary>A site; none where there is none.</summary>
    public Task<SiteView?> SiteAsync(string id, CancellationToken cancel = default) => FindAsync<SiteView>($"v1/sites/{Escape(id)}", cancel);

    /// <summary>The circuits of a site, or all, a line each, page after page.</summary>
    public IAsyncEnumerable<CircuitLine> CircuitsAsync(string? site = null, CancellationToken cancel = default) =>
        ListAsync<CircuitLine>(site is null ? "v1/circuits" : $"v1/circuits?site={Escape(site)}", cancel);

    /// <summary>The circuits in whose id or name a text stands, of a site or all, a line each, page after page.</summary>
    public IAsyncEnumerable<CircuitLine> FindCircuitsAsync(string text, string? site = null, CancellationToken cancel = default) =>
        ListAsync<CircuitLine>(Pages.With("v1/circuits", ("q", text), ("site", site)), cancel);

    /// <summary>A circuit; none where there is none. Readings in V, mA and Ω.</summary>
    public Task<CircuitView?> CircuitAsync(string id, CancellationToken cancel = default) => FindAsync<CircuitView>($"v1/circuits/{Escape(id)}", cancel);

    /// <summary>A circuit where its state is another than that of the tag; none where it is the same.</summary>
    /// <exception cref="ProblemException">There is no such circuit.</exception>
    /// <exception cref="FleetLightException">No answer came.</exception>
    public async Task<Tagged<CircuitView>?> CircuitIfChangedAsync(string id, string? tag, CancellationToken cancel = default)
    {
        CircuitView? view = null;
        var reply = await transport.SendAsync(
            Call.Get($"v1/circuits/{Escape(id)}") with { KnownTag = tag },
            read => view = read.Status == HttpStatusCode.NotModified ? null : Parse<CircuitView>(read.Body), cancel).ConfigureAwait(false);
        return view is null ? null : new Tagged<CircuitView>(view, reply.Tag);
    }

    /// <summary>Every reading of a circuit, newest first, page after page. Values in V, mA or Ω.</summary>
    public IAsyncEnumerable<RecordedReading> ReadingsAsync(string circuit, CancellationToken cancel = default) =>
        ListAsync<RecordedReading>($"v1/circuits/{Escape(circuit)}/readings", cancel);

    /// <summary>A duct; none where there is none.</summary>
    public Task<DuctView?> DuctAsync(string id, CancellationToken cancel = default) => FindAsync<DuctView>($"v1/ducts/{Escape(id)}", cancel);

    /// <summary>A cable; none where there is none.</summary>
    public Task<CableView?> CableAsync(string id, CancellationToken cancel = default) => FindAsync<CableView>($"v1/cables/{Escape(id)}", cancel);

    /// <summary>A box; none where there is none.</summary>
    public Task<BoxView?> BoxAsync(string id, CancellationToken cancel = default) => FindAsync<BoxView>($"v1/boxes/{Escape(id)}", cancel);

    /// <summary>The alerts that stand, of a site or a circuit or all, page after page.</summary>
    public IAsyncEnumerable<AlertView> AlertsAsync(string? site = null, string? circuit = null, CancellationToken cancel = default) =>
        ListAsync<AlertView>(Pages.With("v1/alerts", ("site", site), ("circuit", circuit)), cancel);

    /// <summary>An alert; none where there is none.</summary>
    public Task<AlertView?> AlertAsync(string id, CancellationToken cancel = default) => FindAsync<AlertView>($"v1/alerts/{Escape(id)}", cancel);

    /// <summary>A page of the circuits that a filter lets through, a line each, in the order of their ids.</summary>
    /// <param name="filter">Which.</param>
    /// <param name="cursor">Where to go on; the page's <c>next</c>.</param>
    /// <param name="limit">Most members of the page, 1 to 1,000.</param>
    /// <param name="cancel">Ends it.</param>
    public Task<Page<CircuitLine>> CircuitPageAsync(CircuitFilter filter, string? cursor = null, int limit = 100, CancellationToken cancel = default) =>
        transport.ReadAsync<Page<CircuitLine>>(
            Call.Get(Pages.With(
                "v1/circuits", ("q", filter.Text), ("site", filter.Site), ("phase", Call.Word(filter.Phase)), ("verdict", Call.Word(filter.Verdict)),
                ("rule", filter.Rule), ("cursor", cursor), ("limit", Call.Number(limit)))), cancel);

    /// <summary>A page of the alerts that a filter lets through, in the order of their ids.</summary>
    /// <param name="filter">Which.</param>
    /// <param name="cursor">Where to go on; the page's <c>next</c>.</param>
    /// <param name="limit">Most members of the page, 1 to 1,000.</param>
    /// <param name="cancel">Ends it.</param>
    public Task<Page<AlertView>> AlertPageAsync(AlertFilter filter, string? cursor = null, int limit = 100, CancellationToken cancel = default) =>
        transport.ReadAsync<Page<AlertView>>(
            Call.Get(Pages.With(
                "v1/alerts", ("site", filter.Site), ("circuit", filter.Circuit), ("severity", Call.Word(filter.Severity)), ("rule", filter.Rule),
                ("standing", filter.Standing is { } standing ? Call.Word<AlertStanding>(standing) : null), ("cursor", cursor), ("limit", Call.Number(limit)))),
            cancel);

    /// <summary>Takes note of an alert: it stands until its cause has gone.</summary>
    /// <param name="id">The alert.</param>
    /// <param name="note">What was decided, 1 to 500 characters.</param>
    /// <param name="cancel">Ends it.</param>
    public Task<AlertView> AcknowledgeAsync(string id, string note, CancellationToken cancel = default) =>
        transport.ReadAsync<AlertView>(Call.With(HttpMethod.Post, $"v1/alerts/{Escape(id)}/acknowledge", new { note }), cancel);

    /// <summary>A page of the sites of the fleet, a line each, in the order of their ids.</summary>
    /// <param name="text">Only those in whose id, name or place this stands; all where absent.</param>
    /// <param name="verdict">Only those with such a circuit.</param>
    /// <param name="severity">Only those with such an alert that stands.</param>
    /// <param name="cursor">Where to go on; the page's <c>next</c>.</param>
    /// <param name="limit">Most members of the page, 1 to 1,000.</param>
    /// <param name="cancel">Ends it.</param>
    public Task<Page<FleetSiteLine>> FleetSitePageAsync(
        string? text = null, CircuitVerdict? verdict = null, AlertSeverity? severity = null, string? cursor = null, int limit = 100,
        CancellationToken cancel = default) =>
        transport.ReadAsync<Page<FleetSiteLine>>(
            Call.Get(Pages.With(
                "v1/fleet/sites", ("q", text), ("verdict", Call.Word(verdict)), ("severity", Call.Word(severity)), ("cursor", cursor),
                ("limit", Call.Number(limit)))), cancel);

    /// <summary>
    /// A site, circuit, duct, cable or box as it was: with what had happened by a time, as far as it was known by a time. None where it
    /// was not known then.
    /// </summary>
    /// <param name="id">Its id.</param>
    /// <param name="asOf">What happened later is left out; nothing if null.</param>
    /// <param name="knownBy">What was recorded later is left out; nothing if null.</param>
    /// <param name="cancel">Cancels.</param>
    /// <typeparam name="T">The state: that of a site, circuit, duct, cable or box.</typeparam>
    public Task<T?> AsOfAsync<T>(string id, DateTimeOffset? asOf, DateTimeOffset? knownBy = null, CancellationToken cancel = default) where T : ThingView
    {
        var kind = typeof(T) == typeof(SiteView) ? "sites" : typeof(T) == typeof(CircuitView) ? "circuits" : typeof(T) == typeof(DuctView) ? "ducts"
            : typeof(T) == typeof(CableView) ? "cables" : typeof(T) == typeof(BoxView) ? "boxes"
            : throw new ArgumentException("There is no such kind of thing.", nameof(id));
        return FindAsync<T>(Pages.With($"v1/{kind}/{Escape(id)}", ("asOf", Call.Time(asOf)), ("knownBy", Call.Time(knownBy))), cancel);
    }

    /// <summary>The sites of the fleet, a line each with what stands on them in numbers, page after page.</summary>
    /// <param name="text">A text in the id, name or place; any if null.</param>
    /// <param name="verdict">A verdict that one of its circuits has; any if null.</param>
    /// <param name="severity">Severity of an alert that stands; any if null.</param>
    /// <param name="cancel">Cancels.</param>
    public IAsyncEnumerable<FleetSiteLine> FleetSitesAsync(
        string? text = null, CircuitVerdict? verdict = null, AlertSeverity? severity = null, CancellationToken cancel = default) =>
        ListAsync<FleetSiteLine>(Pages.With("v1/fleet/sites", ("q", text), ("verdict", Call.Word(verdict)), ("severity", Call.Word(severity))), cancel);

    /// <summary>What was done on a day, by device.</summary>
    /// <param name="date">The day.</param>
    /// <param name="offset">How far the day's clock is ahead of UTC; whole minutes count.</param>
    /// <param name="cancel">Cancels.</param>
    public Task<FleetDayView> FleetDayAsync(DateOnly date, TimeSpan offset = default, CancellationToken cancel = default) =>
        transport.ReadAsync<FleetDayView>(Call.Get($"v1/fleet/day?date={Call.Day(date)}&offsetMinutes={(int)offset.TotalMinutes}"), cancel);

    /// <summary>The whole fleet in numbers.</summary>
    public Task<FleetView> FleetAsync(CancellationToken cancel = default) => transport.ReadAsync<FleetView>(Call.Get("v1/fleet"), cancel);

    /// <summary>
    /// What is at a path of the API that answers one JSON document, as it came; none where there is none. For what this client
    /// has no method for yet.
    /// </summary>
    public async Task<byte[]?> RawAsync(string path, CancellationToken cancel = default)
    {
        try
        {
            return (await transport.SendAsync(Call.Get(path), reply => Parse<JsonElement>(reply.Body), cancel).ConfigureAwait(false)).Body;
        }
        catch (ProblemException problem) when (problem.Problem.Type == ProblemTypes.NotFound)
        {
            return null;
        }
    }

    private async Task<T?> FindAsync<T>(string path, CancellationToken cancel) where T : class
    {
        try
        {
            return await transport.ReadAsync<T>(Call.Get(path), cancel).ConfigureAwait(false);
        }
        catch (ProblemException problem) when (problem.Problem.Type == ProblemTypes.NotFound)
        {
            return null;
        }
    }

    private IAsyncEnumerable<T> ListAsync<T>(string path, CancellationToken cancel) => Pages.ListAsync<T>(transport, path, cancel);

    private static T Parse<T>(byte[] body)
    {
        try
        {
            return JsonSerializer.Deserialize<T>(body, WireJson.Lenient)
                ?? throw new UnreadableAnswerException("The answer holds nothing where the contract promises something.");
        }
        catch (JsonException bad)
        {
            throw new UnreadableAnswerException($"The answer is something else than the contract says: {bad.Message}", bad);
        }
    }

    private static string Escape(string text) => Uri.EscapeDataString(text);
}
