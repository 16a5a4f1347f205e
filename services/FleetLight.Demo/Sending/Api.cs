using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Demo.Sending;

/// <summary>The demo cannot go on; the message says why in plain words.</summary>
internal sealed class DemoFailure(string message, Exception? cause = null) : Exception(message, cause);

/// <summary>A key as the service answers it.</summary>
/// <param name="Key">The key.</param>
internal sealed record MadeKey(string Key);

/// <summary>What the service says of its health.</summary>
/// <param name="ProjectionBehind">Facts that its states have still to take in.</param>
internal sealed record Health(long? ProjectionBehind);

/// <summary>FleetLight's public API, as far as the demo uses it.</summary>
internal sealed class Api(HttpClient http, TimeProvider clock)
{
    private const int Tries = 6;
    private static readonly Uri HealthPath = new("health/ready", UriKind.Relative);

    /// <summary>Waits until the service is ready.</summary>
    public async Task WaitUntilReadyAsync(TimeSpan atMost, Progress progress, CancellationToken cancel)
    {
        var started = clock.GetTimestamp();
        while (true)
        {
            var says = await SayReadyAsync(cancel);
            if (says is null) return;
            if (clock.GetElapsedTime(started) > atMost) throw new DemoFailure($"FleetLight at {http.BaseAddress} is not ready: {says}");
            progress.Show($"waiting for FleetLight at {http.BaseAddress}");
            await Task.Delay(TimeSpan.FromMilliseconds(500), clock, cancel);
        }
    }

    /// <summary>Makes a key.</summary>
    public async Task<string> MakeKeyAsync(string key, object wanted, CancellationToken cancel) =>
        (await SendAsync<MadeKey>(
            HttpMethod.Post, "v1/keys", key, () => Body(JsonSerializer.SerializeToUtf8Bytes(wanted, WireJson.Lenient), "application/json"), null, cancel)).Key;

    /// <summary>Hands a batch in.</summary>
    public Task<BatchReceipt> HandInAsync(string key, ReadOnlyMemory<byte> batch, Func<DateTimeOffset> deviceClock, CancellationToken cancel) =>
        SendAsync<BatchReceipt>(HttpMethod.Post, "v1/events", key, () => Body(batch, Envelope.BatchMediaType), deviceClock, cancel);

    /// <summary>How far the service's states are behind its facts, in facts; none where it does not say.</summary>
    public async Task<long?> BehindAsync(CancellationToken cancel)
    {
        try
        {
            return (await http.GetFromJsonAsync<Health>(HealthPath, WireJson.Lenient, cancel))?.ProjectionBehind;
        }
        catch (Exception failed) when (failed is JsonException || IsPassing(failed, cancel))
        {
            return null;
        }
    }

    /// <summary>One thing.</summary>
    public Task<T> GetAsync<T>(string key, string path, CancellationToken cancel) =>
        SendAsync<T>(HttpMethod.Get, path, key, () => null, null, cancel);

    /// <summary>Every member of a list, page after page.</summary>
    public async Task<IReadOnlyList<T>> ListAsync<T>(string key, string path, CancellationToken cancel)
    {
        var all = new List<T>();
        string? cursor = null;
        do
        {
            var with = cursor is null ? path : $"{path}{(path.Contains('?', StringComparison.Ordinal) ? '&' : '?')}cursor={Uri.EscapeDataString(cursor)}";
            var page = await GetAsync<Page<T>>(key, with, cancel);
            all.AddRange(page.Items);
            cursor = page.Next;
        }
        while (cursor is not null);
        return all;
    }

    // An answer that does not come in time ends as a cancellation that nobody asked for.
    private static bool IsPassing(Exception failed, CancellationToken cancel) =>
        failed is HttpRequestException || (failed is OperationCanceledException && !cancel.IsCancellationRequested);

    private static ReadOnlyMemoryContent Body(ReadOnlyMemory<byte> text, string mediaType) =>
        new(text) { Headers = { ContentType = new MediaTypeHeaderValue(mediaType) } };

    private async Task<string?> SayReadyAsync(CancellationToken cancel)
    {
        try
        {
            using var answer = await http.GetAsync(HealthPath, cancel);
            return answer.IsSuccessStatusCode ? null : $"it answers {(int)answer.StatusCode}.";
        }
        catch (Exception failed) when (IsPassing(failed, cancel))
        {
            return $"it cannot be reached ({failed.Message.TrimEnd('.')}).";
        }
    }

    // Sending again is harmless: the service knows what it has.
    private async Task<T> SendAsync<T>(
        HttpMethod method, string path, string key, Func<HttpContent?> content, Func<DateTimeOffset>? deviceClock, CancellationToken cancel)
    {
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                using var request = new HttpRequestMessage(method, new Uri(path, UriKind.Relative)) { Content = content() };
                request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
                if (deviceClock is not null) request.Headers.Add(Envelope.DeviceClockHeader, deviceClock().ToString("O"));
                using var answer = await http.SendAsync(request, cancel);
                var passing = answer.StatusCode is HttpStatusCode.ServiceUnavailable or HttpStatusCode.TooManyRequests;
                if (answer.IsSuccessStatusCode)
                    return (await answer.Content.ReadFromJsonAsync<T>(WireJson.Lenient, cancel))!;
                if (!passing || attempt == Tries) throw await RefusedAsync(method, path, answer, cancel);
            }
            catch (Exception failed) when (IsPassing(failed, cancel))
            {
                // The service restarts or the network hiccups: wait and try again.
                if (attempt == Tries) throw new DemoFailure($"FleetLight at {http.BaseAddress} cannot be reached: {failed.Message}", failed);
            }
            catch (JsonException failed)
            {
                throw new DemoFailure($"{method} /{path} answered something else than expected: {failed.Message}", failed);
            }

            await Task.Delay(TimeSpan.FromMilliseconds(250 * attempt), clock, cancel);
        }
    }

    private static async Task<DemoFailure> RefusedAsync(HttpMethod method, string path, HttpResponseMessage answer, CancellationToken cancel)
    {
        var text = await answer.Content.ReadAsStringAsync(cancel);
        try
        {
            var problem = JsonSerializer.Deserialize<Problem>(text, WireJson.Lenient);
            if (problem is not null) text = $"{problem.Title}. {problem.Detail} {problem.Remedy}";
        }
        catch (JsonException)
        {
            // Not a problem detail: the text as it is says the most.
        }

        if (answer.StatusCode == HttpStatusCode.Unauthorized)
            text += $" If the service's store is new, remove {KeyRing.FileName} and {LoadRecord.FileName} from the data folder to load the demo into it.";
        return new DemoFailure($"{method} /{path} answered {(int)answer.StatusCode}: {text}");
    }
}
