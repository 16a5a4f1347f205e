using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using FleetLight.Service.Access;
using FleetLight.Service.Circuits;
using Microsoft.AspNetCore.Http.Timeouts;

namespace FleetLight.Service.Sync;

/// <summary>A stretch of what a stream tells.</summary>
/// <param name="Items">What is told, in order, each with its place as the id.</param>
/// <param name="Next">Where to go on.</param>
/// <param name="More">Whether there is more already.</param>
/// <typeparam name="TPlace">A place in what is told.</typeparam>
public sealed record LiveStretch<TPlace>(IReadOnlyList<SseItem<string>> Items, TPlace Next, bool More);

/// <summary>
/// Answers with server-sent events that go on until the reader hangs up, its key or token ends, or the service does. What is told, and
/// what a place is, is said by whoever uses it.
/// </summary>
public sealed class LiveEvents(KeyDirectory keys, ChangeSignal signal, ReadMetrics metrics, IHostApplicationLifetime lifetime)
{
    /// <summary>Most events of one stretch.</summary>
    public const int Most = 500;

    private static readonly TimeSpan StillThere = TimeSpan.FromSeconds(15);
    private static readonly SseItem<string> StillThereEvent = new("{}", "still-there");

    /// <summary>Whether a request asks for a stream; else for a page.</summary>
    public static bool IsWanted(HttpRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        return request.Headers.Accept.ToString().Contains("text/event-stream", StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>The place that a request names: of a stream that is resumed the last that came, else that of its parameter.</summary>
    public static string? PlaceIn(HttpRequest request, string? after) =>
        IsWanted(request) && request.Headers.TryGetValue("Last-Event-ID", out var last) ? last.ToString() : after;

    /// <summary>The stream.</summary>
    /// <param name="context">The request.</param>
    /// <param name="caller">Who asks.</param>
    /// <param name="from">From where.</param>
    /// <param name="readAsync">Reads what comes after a place.</param>
    public IResult Of<TPlace>(HttpContext context, Caller caller, TPlace from, Func<TPlace, CancellationToken, Task<LiveStretch<TPlace>>> readAsync)
    {
        ArgumentNullException.ThrowIfNull(context);
        // It ends when its reader hangs up, and not after a while.
        context.Features.Get<IHttpRequestTimeoutFeature>()?.DisableTimeout();
        return TypedResults.ServerSentEvents(ItemsAsync(caller, from, readAsync, context.RequestAborted));
    }

    private async IAsyncEnumerable<SseItem<string>> ItemsAsync<TPlace>(
        Caller caller, TPlace place, Func<TPlace, CancellationToken, Task<LiveStretch<TPlace>>> readAsync, [EnumeratorCancellation] CancellationToken cancel)
    {
        // A reader that waits must not hold up the end of the service.
        using var end = CancellationTokenSource.CreateLinkedTokenSource(cancel, lifetime.ApplicationStopping);
        using var follower = metrics.Follow();

        // Nothing of the answer is sent before its first event: this one tells the reader at once that it is heard.
        yield return StillThereEvent;
        while (!end.IsCancellationRequested)
        {
            // Asked for before looking, so that what comes between looking and waiting is not slept through.
            var next = signal.Next;
            var stretch = await readAsync(place, cancel);
            // The key may have been revoked, or the token have ended, since the stream began.
            if (!await keys.StillAsync(caller, cancel)) yield break;
            foreach (var item in stretch.Items) yield return item;
            place = stretch.Next;
            if (stretch.More) continue;
            if (await Task.WhenAny(next, Task.Delay(StillThere, end.Token)) != next && !end.IsCancellationRequested)
                yield return StillThereEvent;
        }
    }
}
