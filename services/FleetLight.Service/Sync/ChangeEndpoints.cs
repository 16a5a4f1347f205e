using System.Net.ServerSentEvents;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Sync;

/// <summary>The change feed, as pages and as a stream.</summary>
public static class ChangeEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapChanges(this IEndpointRouteBuilder routes) =>
        routes.MapGet("/v1/changes", GetAsync).Needs(Scope.ReadStatus).WithTags("Changes")
            .WithSummary("What changed after a cursor")
            .WithDescription(
                "Each change names a thing to fetch again, oldest first. 'after' is the cursor of the last change seen; without it the feed "
                + "starts at its beginning, and 'after=now' starts at its end. "
                + "With 'Accept: text/event-stream' the answer is a stream of server-sent events on the same cursors; Last-Event-ID resumes it.")
            .Produces<Page<ChangeView>>().ProducesProblems(400, 401, 403);

    private static async Task<IResult> GetAsync(
        HttpRequest request, Caller caller, ChangeFeed feed, LiveEvents live, CancellationToken cancel, string? after = null, int? limit = null)
    {
        if (!Paging.TryRead(null, limit, out var page, out var problem)) return Problems.Result(problem!);
        var given = LiveEvents.PlaceIn(request, after);
        FeedCursor cursor;
        if (given == "now") cursor = FeedCursor.EndOf(await feed.NewestAsync(cancel));
        else if (!FeedCursor.TryParse(given, out cursor))
            return Problems.Result(Problems.Parameter("after", "The cursor is none that was given out here.", "Use the cursor of a change, or 'now'."));
        if (LiveEvents.IsWanted(request)) return live.Of(request.HttpContext, caller, cursor, ReadAsync);
        var changes = await feed.AfterAsync(caller.Organisation, cursor, page.Limit, cancel);
        // A place even where 'now' was asked for: the caller asks from here next, and misses nothing between.
        var next = (changes.Count > 0 ? changes[^1].Cursor : cursor).ToString();
        request.HttpContext.Response.Headers.Link = $"</v1/changes?after={Uri.EscapeDataString(next)}&limit={page.Limit}>; rel=\"next\"";
        return Answers.Json(new Page<ChangeView> { Items = [.. changes.Select(change => change.ToView())], Next = next });

        async Task<LiveStretch<FeedCursor>> ReadAsync(FeedCursor place, CancellationToken reading)
        {
            var found = await feed.AfterAsync(caller.Organisation, place, LiveEvents.Most, reading);
            return new LiveStretch<FeedCursor>(
                found.ConvertAll(change => new SseItem<string>(JsonSerializer.Serialize(change.ToView(), WireJson.Lenient), "change") { EventId = change.Cursor.ToString() }),
                found.Count > 0 ? found[^1].Cursor : place, found.Count > 0);
        }
    }
}
