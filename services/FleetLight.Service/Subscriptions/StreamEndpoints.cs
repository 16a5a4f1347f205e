using System.Net.ServerSentEvents;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Sync;

namespace FleetLight.Service.Subscriptions;

/// <summary>All that is told, as pages and as a stream, to whoever asks for it.</summary>
public static class StreamEndpoints
{
    /// <summary>The path.</summary>
    public const string Path = "/v1/stream";

    /// <summary>Maps it.</summary>
    public static void MapStream(this IEndpointRouteBuilder routes) =>
        routes.MapGet(Path, GetAsync).Needs(Scope.ReadStatus).WithTags("Subscriptions")
            .WithSummary("Facts, alerts and changes, in order, after a cursor")
            .WithDescription(
                "The same CloudEvents 1.0 events, in the same order and by the same choices as for subscriptions. Without 'after' it starts at the beginning, "
                + "with 'after=now' at the end; 'next' is given at the end too. With 'Accept: text/event-stream' the answer is a stream of server-sent events "
                + "named 'told' with the cursor as their id; Last-Event-ID resumes it.")
            .Produces<Page<ToldEvent>>().ProducesProblems(400, 401, 403);

    private static async Task<IResult> GetAsync(
        HttpRequest request, Caller caller, ToldReader reader, LiveEvents live, CancellationToken cancel,
        string? tell = null, string? types = null, string? sites = null, string? changed = null, string? rules = null, string? after = null, int? limit = null)
    {
        if (!Paging.TryRead(null, limit, out var page, out var problem) || !TryFilter(tell, types, sites, changed, rules, out var filter, out problem))
            return Problems.Result(problem!);
        var given = LiveEvents.PlaceIn(request, after);
        StreamPlace place;
        if (given == "now") place = await reader.EndAsync(caller.Organisation, cancel);
        else if (!StreamPlace.TryParse(given, out place))
            return Problems.Result(Problems.Parameter("after", "The cursor is none that was given out here.", "Use the cursor of something that was told, or 'now'."));
        if (LiveEvents.IsWanted(request)) return live.Of(request.HttpContext, caller, place, ReadAsync);

        // A stretch without anything of what is asked for is no answer, as long as there is more.
        var found = await reader.AfterAsync(caller.Organisation, filter, place, page.Limit, cancel);
        while (found is { Items.Count: 0, More: true }) found = await reader.AfterAsync(caller.Organisation, filter, found.Next, page.Limit, cancel);
        var next = found.Next.ToString();
        var query = request.Query.Where(pair => pair.Key != "after")
            .SelectMany(pair => pair.Value, (pair, value) => KeyValuePair.Create<string, string?>(pair.Key, value))
            .Append(KeyValuePair.Create<string, string?>("after", next));
        request.HttpContext.Response.Headers.Link = $"<{Path}{QueryString.Create(query)}>; rel=\"next\"";
        return Answers.Json(new Page<ToldEvent> { Items = [.. found.Items.Select(told => told.Event)], Next = next });

        async Task<LiveStretch<StreamPlace>> ReadAsync(StreamPlace from, CancellationToken reading)
        {
            var stretch = await reader.AfterAsync(caller.Organisation, filter, from, LiveEvents.Most, reading);
            return new LiveStretch<StreamPlace>(
                [.. stretch.Items.Select(told => new SseItem<string>(JsonSerializer.Serialize(told.Event, WireJson.Lenient), "told") { EventId = told.Place.ToString() })],
                stretch.Next, stretch.More);
        }
    }

    private static bool TryFilter(
        string? tell, string? types, string? sites, string? changed, string? rules, out StreamFilter filter, out Problem? problem)
    {
        filter = new StreamFilter { Types = List(types), Sites = List(sites), Changed = List(changed), Rules = List(rules) };
        problem = null;
        var kinds = new List<ToldKind>();
        foreach (var word in List(tell) ?? [])
        {
            if (!Query.TryEnum<ToldKind>(word, "tell", out var kind, out problem)) return false;
            if (kind is { } one) kinds.Add(one);
        }

        if (kinds.Count > 0) filter = filter with { Tell = [.. kinds] };
        problem = filter.Check();
        return problem is null;
    }

    private static string[]? List(string? text) => string.IsNullOrEmpty(text) ? null : text.Split(',');
}
