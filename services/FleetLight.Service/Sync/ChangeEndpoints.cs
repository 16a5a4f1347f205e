using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Circuits;
using FleetLight.Service.Hosting;
using Microsoft.AspNetCore.Http.Timeouts;

namespace FleetLight.Service.Sync;

/// <summary>The change feed, as pages and as a stream.</summary>
public static class ChangeEndpoints
{
    private const int MostInStream = 500;
    private static readonly TimeSpan StillThere = TimeSpan.FromSeconds(15);
    private static readonly SseItem<string> StillThereEvent = new("{}", "still-there");

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
        HttpRequest request, Caller caller, KeyDirectory keys, ChangeFeed feed, ChangeSignal signal, ReadMetrics metrics,
        IHostApplicationLifetime lifetime, CancellationToken cancel,
        string? after = null, int? limit = null)
    {
        if (!Paging.TryRead(null, limit, out var page, out var problem)) return Problems.Result(problem!);
        var stream = request.Headers.Accept.ToString().Contains("text/event-stream", StringComparison.OrdinalIgnoreCase);
        var given = stream && request.Headers.TryGetValue("Last-Event-ID", out var last) ? last.ToString() : after;
        FeedCursor cursor;
        if (given == "now") cursor = FeedCursor.EndOf(await feed.NewestAsync(cancel));
        else if (!FeedCursor.TryParse(given, out cursor))
            return Problems.Result(Problems.Parameter("after", "The cursor is none that was given out here.", "Use the cursor of a change, or 'now'."));
        if (stream)
        {
            // It ends when its reader hangs up, and not after a while.
            request.HttpContext.Features.Get<IHttpRequestTimeoutFeature>()?.DisableTimeout();
            return TypedResults.ServerSentEvents(StreamAsync(feed, signal, metrics, keys, caller, cursor, lifetime.ApplicationStopping, cancel));
        }

        var changes = await feed.AfterAsync(caller.Organisation, cursor, page.Limit, cancel);
        // A place even where 'now' was asked for: the caller asks from here next, and misses nothing between.
        var next = (changes.Count > 0 ? changes[^1].Cursor : cursor).ToString();
        request.HttpContext.Response.Headers.Link = $"</v1/changes?after={Uri.EscapeDataString(next)}&limit={page.Limit}>; rel=\"next\"";
        return Answers.Json(new Page<ChangeView> { Items = [.. changes.Select(change => change.ToView())], Next = next });
    }

    private static async IAsyncEnumerable<SseItem<string>> StreamAsync(
        ChangeFeed feed, ChangeSignal signal, ReadMetrics metrics, KeyDirectory keys, Caller caller, FeedCursor cursor, CancellationToken stopping,
        [EnumeratorCancellation] CancellationToken cancel)
    {
        // A reader that waits must not hold up the end of the service.
        using var end = CancellationTokenSource.CreateLinkedTokenSource(cancel, stopping);

        using var follower = metrics.Follow();

        // Nothing of the answer is sent before its first event: this one tells the reader at once that it is heard.
        yield return StillThereEvent;
        while (!end.IsCancellationRequested)
        {
            // Asked for before looking, so that a change between looking and waiting is not slept through.
            var next = signal.Next;
            var changes = await feed.AfterAsync(caller.Organisation, cursor, MostInStream, cancel);
            // The key may have been revoked, or the token have ended, since the stream began.
            if (!await keys.StillAsync(caller, cancel)) yield break;
            foreach (var change in changes)
            {
                cursor = change.Cursor;
                yield return new SseItem<string>(JsonSerializer.Serialize(change.ToView(), WireJson.Lenient), "change") { EventId = cursor.ToString() };
            }

            if (changes.Count > 0) continue;
            if (await Task.WhenAny(next, Task.Delay(StillThere, end.Token)) != next && !end.IsCancellationRequested)
                yield return StillThereEvent;
        }
    }
}
