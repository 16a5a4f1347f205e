using System.Text.Json;
using FleetLight.Client.Reading;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Visits;

/// <summary>Visits: the office plans them, whoever goes reads them. A device sees its own and those for nobody in particular.</summary>
public sealed class VisitApi
{
    private readonly Transport transport;

    internal VisitApi(Transport transport) => this.transport = transport;

    /// <summary>Visits by day, page after page.</summary>
    /// <param name="from">On this day or later; any where absent.</param>
    /// <param name="to">On this day or earlier; any where absent.</param>
    /// <param name="site">To this site.</param>
    /// <param name="source">For this device.</param>
    /// <param name="state">In this state.</param>
    /// <param name="cancel">Ends it.</param>
    public IAsyncEnumerable<VisitView> ListAsync(
        DateOnly? from = null, DateOnly? to = null, string? site = null, string? source = null, VisitState? state = null, CancellationToken cancel = default) =>
        Pages.ListAsync<VisitView>(
            transport,
            Pages.With(
                "v1/visits", ("from", Call.Day(from)), ("to", Call.Day(to)), ("site", site), ("source", source),
                ("state", state is { } known ? JsonNamingPolicy.KebabCaseLower.ConvertName(known.ToString()) : null)),
            cancel);

    /// <summary>A visit, with what to take along; none where there is none.</summary>
    public async Task<VisitView?> VisitAsync(string id, CancellationToken cancel = default)
    {
        try
        {
            return await transport.ReadAsync<VisitView>(Call.Get(PathOf(id)), cancel).ConfigureAwait(false);
        }
        catch (ProblemException problem) when (problem.Problem.Type == ProblemTypes.NotFound)
        {
            return null;
        }
    }

    /// <summary>Plans a visit. Tried again only where the service cannot have handled it, for twice would be two visits.</summary>
    public Task<VisitView> PlanAsync(VisitRequest visit, CancellationToken cancel = default) =>
        transport.ReadAsync<VisitView>(new Call(HttpMethod.Post, "v1/visits") { Body = Json(visit), Repeatable = false }, cancel);

    /// <summary>Puts another plan in the place of a visit's; it names the version that it was made from.</summary>
    /// <exception cref="ProblemException">Somebody else changed the visit meanwhile, or it is over.</exception>
    public Task<VisitView> ChangeAsync(string id, VisitChangeRequest visit, CancellationToken cancel = default) =>
        transport.ReadAsync<VisitView>(new Call(HttpMethod.Put, PathOf(id)) { Body = Json(visit), Repeatable = false }, cancel);

    /// <summary>Says that a visit was made.</summary>
    public Task<VisitView> DoneAsync(string id, string? note = null, CancellationToken cancel = default) =>
        transport.ReadAsync<VisitView>(
            new Call(HttpMethod.Post, $"{PathOf(id)}/done") { Body = note is null ? null : (ReadOnlyMemory<byte>?)JsonSerializer.SerializeToUtf8Bytes(new { note }) }, cancel);

    /// <summary>Calls a visit off; it is kept.</summary>
    public Task<VisitView> CallOffAsync(string id, CancellationToken cancel = default) =>
        transport.ReadAsync<VisitView>(new Call(HttpMethod.Delete, PathOf(id)), cancel);

    private static string PathOf(string id) => $"v1/visits/{Uri.EscapeDataString(id)}";

    private static byte[] Json<T>(T body) => JsonSerializer.SerializeToUtf8Bytes(body, WireJson.Lenient);
}
