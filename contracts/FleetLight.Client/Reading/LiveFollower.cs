using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using System.Text.Json;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Reading;

/// <summary>Follows server-sent events: whatever breaks the connection, it goes on after the last one given, so nothing is passed over.</summary>
/// <typeparam name="T">What is told.</typeparam>
internal sealed class LiveFollower<T>(Transport transport, string path, string name, Func<T, string> cursorOf, Func<CancellationToken, Task<string?>> endAsync)
    where T : class
{
    /// <summary>Stands for the end: only what comes from now on.</summary>
    public const string Now = "now";

    /// <summary>What comes after a cursor, until cancelled.</summary>
    /// <param name="after">Cursor of the last one seen; from the beginning where absent.</param>
    /// <param name="heard">Is told true as a stream opens, false as it breaks.</param>
    /// <param name="cancel">Ends it.</param>
    public async IAsyncEnumerable<T> FollowAsync(string? after, IProgress<bool>? heard, [EnumeratorCancellation] CancellationToken cancel)
    {
        // A place to go on from, before anything can break: what comes while it is broken would be passed over otherwise.
        var cursor = after;
        for (var failures = 0; ; failures++)
        {
            if (failures > 0) await Task.Delay(Pause(failures), transport.Clock, cancel).ConfigureAwait(false);
            HttpResponseMessage answer;
            try
            {
                if (cursor == Now) cursor = await endAsync(cancel).ConfigureAwait(false);
                answer = await OpenAsync(cursor, cancel).ConfigureAwait(false);
            }
            catch (FleetLightException failed) when (failed.IsPassing)
            {
                heard?.Report(false);
                continue;
            }

            using (answer)
            {
                heard?.Report(true);
                await foreach (var told in ReadAsync(answer, cancel).ConfigureAwait(false))
                {
                    failures = 0;
                    cursor = cursorOf(told);
                    yield return told;
                }
            }

            heard?.Report(false);
        }
    }

    private Task<HttpResponseMessage> OpenAsync(string? cursor, CancellationToken cancel) => transport.OpenAsync(Call.Get(path), request =>
    {
        request.Headers.Accept.ParseAdd("text/event-stream");
        if (cursor is not null) request.Headers.Add("Last-Event-ID", cursor);
    }, cancel);

    // Ends, without a word, where the stream does: whoever asks opens the next one.
    private async IAsyncEnumerable<T> ReadAsync(HttpResponseMessage answer, [EnumeratorCancellation] CancellationToken cancel)
    {
        using var silence = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        await using var timer = transport.Clock.CreateTimer(_ => silence.Cancel(), null, transport.Options.Silence, Timeout.InfiniteTimeSpan);
        var stream = await answer.Content.ReadAsStreamAsync(cancel).ConfigureAwait(false);
        await using var _ = stream.ConfigureAwait(false);
        var events = SseParser.Create(stream).EnumerateAsync(silence.Token).GetAsyncEnumerator(silence.Token);
        await using var __ = events.ConfigureAwait(false);
        while (await NextAsync(events, cancel).ConfigureAwait(false))
        {
            timer.Change(transport.Options.Silence, Timeout.InfiniteTimeSpan);
            if (events.Current.EventType != name) continue;
            if (Parse(events.Current.Data) is not { } told) yield break;
            yield return told;
        }
    }

    private static async Task<bool> NextAsync(IAsyncEnumerator<SseItem<string>> events, CancellationToken cancel)
    {
        try
        {
            return await events.MoveNextAsync().ConfigureAwait(false);
        }
        catch (Exception failed) when (failed is IOException or HttpRequestException or OperationCanceledException && !cancel.IsCancellationRequested)
        {
            return false;
        }
    }

    private static T? Parse(string text)
    {
        try
        {
            return JsonSerializer.Deserialize<T>(text, WireJson.Lenient);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private TimeSpan Pause(int failures)
    {
        var longest = Math.Min(
            transport.Options.LongestPause.TotalSeconds, transport.Options.FirstPause.TotalSeconds * Math.Pow(2, Math.Min(failures, 20)));
        return TimeSpan.FromSeconds(longest * (0.5 + (0.5 * transport.Chance())));
    }
}
