using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using System.Text.Json;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Reading;

/// <summary>The change feed: what changed, oldest first. Fetch each thing again; keep the cursor of the last one.</summary>
public sealed class ChangeApi
{
    /// <summary>Stands for the end of the feed: only what changes from now on.</summary>
    public const string Now = "now";

    private readonly Transport transport;

    internal ChangeApi(Transport transport) => this.transport = transport;

    /// <summary>What changed after a cursor; from the beginning where there is none. Go on from the page's <c>next</c>.</summary>
    /// <exception cref="FleetLightException">No answer came.</exception>
    public Task<Page<ChangeView>> PageAsync(string? after, int limit = 500, CancellationToken cancel = default) =>
        transport.ReadAsync<Page<ChangeView>>(
            Call.Get($"v1/changes?limit={limit}{(after is null ? "" : $"&after={Uri.EscapeDataString(after)}")}"), cancel);

    /// <summary>
    /// What changes after a cursor, as it comes, until cancelled (server-sent events). Whatever breaks the connection, it goes
    /// on after the last change given: nothing is passed over.
    /// </summary>
    /// <exception cref="FleetLightException">The service does not take the request, which trying again would not change.</exception>
    public IAsyncEnumerable<ChangeView> FollowAsync(string? after = null, CancellationToken cancel = default) => FollowAsync(after, null, cancel);

    /// <summary>The same, and tells whether the service is heard: true as a stream opens, false as it breaks.</summary>
    /// <param name="after">Cursor of the last change seen; from the beginning where absent, from the end with <see cref="Now"/>.</param>
    /// <param name="heard">Is told each time.</param>
    /// <param name="cancel">Ends it.</param>
    public async IAsyncEnumerable<ChangeView> FollowAsync(
        string? after, IProgress<bool>? heard, [EnumeratorCancellation] CancellationToken cancel = default)
    {
        // A place to go on from, before anything can break: what changes while it is broken would be passed over otherwise.
        var cursor = after;
        for (var failures = 0; ; failures++)
        {
            if (failures > 0) await Task.Delay(Pause(failures), transport.Clock, cancel).ConfigureAwait(false);
            HttpResponseMessage answer;
            try
            {
                if (cursor == Now) cursor = (await PageAsync(Now, 1, cancel).ConfigureAwait(false)).Next;
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
                await foreach (var change in ReadAsync(answer, cancel).ConfigureAwait(false))
                {
                    failures = 0;
                    cursor = change.Cursor;
                    yield return change;
                }
            }

            heard?.Report(false);
        }
    }

    private Task<HttpResponseMessage> OpenAsync(string? cursor, CancellationToken cancel) => transport.OpenAsync(Call.Get("v1/changes"), request =>
    {
        request.Headers.Accept.ParseAdd("text/event-stream");
        if (cursor is not null) request.Headers.Add("Last-Event-ID", cursor);
    }, cancel);

    // Ends, without a word, where the stream does: whoever asks opens the next one.
    private async IAsyncEnumerable<ChangeView> ReadAsync(HttpResponseMessage answer, [EnumeratorCancellation] CancellationToken cancel)
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
            if (events.Current.EventType != "change") continue;
            if (Parse(events.Current.Data) is not { } change) yield break;
            yield return change;
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

    private static ChangeView? Parse(string text)
    {
        try
        {
            return JsonSerializer.Deserialize<ChangeView>(text, WireJson.Lenient);
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
