using System.Text.Json;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Outbox;
using FleetLight.FieldAgent.Receiving;

namespace FleetLight.FieldAgent.Local;

/// <summary>What is known of the sites without a connection.</summary>
internal static class SiteApi
{
    private static readonly string[] Kinds = ["site", "circuit", "duct", "cable", "box", "alert"];

    /// <summary>Maps it.</summary>
    public static void MapSites(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/things/{kind}", (string kind, AgentParts parts, string? site = null) => Kinds.Contains(kind)
            ? LocalApi.Json(new { things = parts.Sites.List(kind, site).Select(Show) })
            : LocalApi.Fault(Problems.NotFound($"Kinds are {string.Join(", ", Kinds)}.")));
        routes.MapGet("/v1/things/{kind}/{id}", (string kind, string id, AgentParts parts) => parts.Sites.Find(kind, id) is { } thing
            ? LocalApi.Json(Show(thing))
            : LocalApi.Fault(Problems.NotFound($"No {kind} '{id}' is known here. Only the sites that the device is assigned are.")));
        routes.MapGet("/v1/circuits/{id}/expected", (string id, AgentParts parts) => Answer(OfflineJudge.Expect(parts.Sites, id)));
        routes.MapPost("/v1/circuits/{id}/judge", JudgeAsync);
        routes.MapGet("/v1/circuits", (AgentParts parts, string? site = null) =>
            LocalApi.Json(new { circuits = parts.Sites.List("circuit", site).Select(thing => OpenCircuit.Of(thing.As<CircuitView>(), thing.FetchedAt)) }));
    }

    private static async Task<IResult> JudgeAsync(string id, HttpRequest request, AgentParts parts, CancellationToken cancel)
    {
        ReadingInput? reading;
        try
        {
            reading = await JsonSerializer.DeserializeAsync<ReadingInput>(request.Body, WireJson.Strict, cancel);
        }
        catch (JsonException bad)
        {
            return LocalApi.Fault(Problems.Unreadable(FactReader.Say(bad)));
        }

        return reading is null ? LocalApi.Fault(Problems.Unreadable("There is nothing.")) : Answer(OfflineJudge.Judge(parts.Sites, id, reading));
    }

    private static IResult Answer<T>(Offline<T> offline) where T : class =>
        offline.Problem is { } problem ? LocalApi.Fault(problem) : LocalApi.Json(offline);

    private static object Show(KeptThing thing) => new { thing.Kind, thing.Id, thing.Site, thing.FetchedAt, View = thing.As<JsonElement>() };
}

/// <summary>A circuit in a line: how far it is, and what is open.</summary>
public sealed record OpenCircuit
{
    /// <summary>The circuit.</summary>
    public required string Id { get; init; }

    /// <summary>Its site.</summary>
    public string? Site { get; init; }

    /// <summary>What people call it.</summary>
    public string? Name { get; init; }

    /// <summary>The phase reached.</summary>
    public required CircuitPhase Phase { get; init; }

    /// <summary>The verdict on its readings.</summary>
    public required CircuitVerdict Verdict { get; init; }

    /// <summary>What is missing for the next phase.</summary>
    public required IReadOnlyList<string> Missing { get; init; }

    /// <summary>When the service told.</summary>
    public required DateTimeOffset AsOf { get; init; }

    /// <summary>The line of a circuit.</summary>
    public static OpenCircuit Of(CircuitView view, DateTimeOffset fetchedAt)
    {
        ArgumentNullException.ThrowIfNull(view);
        return new OpenCircuit
        {
            Id = view.Id,
            Site = view.SiteId,
            Name = view.Name,
            Phase = view.Phase,
            Verdict = view.Verdict,
            Missing = view.MissingForNextPhase,
            AsOf = fetchedAt,
        };
    }
}
