using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using FleetLight.Contracts.Wire;
using Polly;
using Polly.CircuitBreaker;
using Polly.Timeout;

namespace FleetLight.Client.Sending;

/// <summary>Makes calls until one is answered, and says plainly what became of those that are not.</summary>
internal sealed class Transport
{
    private readonly HttpClient http;
    private readonly ResiliencePipeline oneTry;
    private readonly ResiliencePipeline oneLongTry;
    private readonly ResiliencePipeline repeated;
    private readonly ResiliencePipeline once;

    public Transport(HttpClient http, ClientOptions options, TimeProvider clock, Func<double> chance)
    {
        this.http = http;
        Options = options;
        Clock = clock;
        Chance = chance;
        oneTry = Patience.OneTry(options, clock, options.TryTimeout);
        oneLongTry = Patience.OneTry(options, clock, options.PictureTimeout);
        repeated = Patience.Tries(options, clock, chance, repeatable: true);
        once = Patience.Tries(options, clock, chance, repeatable: false);
    }

    /// <summary>How patiently.</summary>
    public ClientOptions Options { get; }

    /// <summary>The clock.</summary>
    public TimeProvider Clock { get; }

    /// <summary>Draws from 0 to 1.</summary>
    public Func<double> Chance { get; }

    /// <summary>The answer to a call as a record of the contract.</summary>
    public async Task<T> ReadAsync<T>(Call call, CancellationToken cancel)
    {
        T? read = default;
        await SendAsync(call, reply => read = Read<T>(reply), cancel).ConfigureAwait(false);
        return read!;
    }

    /// <summary>The answer to a call; what <paramref name="check"/> throws counts as an answer that cannot be read.</summary>
    public Task<Reply> SendAsync(Call call, Action<Reply>? check, CancellationToken cancel) => RunAsync(call, async token =>
    {
        using var request = Make(call);
        using var answer = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, token).ConfigureAwait(false);
        var body = await ReadAsync(answer.Content, token).ConfigureAwait(false);
        ThrowWhereProblem(answer, body);
        var reply = new Reply(answer.StatusCode, body, answer.Headers.ETag?.ToString());
        check?.Invoke(reply);
        return reply;
    }, cancel);

    /// <summary>Opens an answer that goes on for ever.</summary>
    public Task<HttpResponseMessage> OpenAsync(Call call, Action<HttpRequestMessage> change, CancellationToken cancel) => RunAsync(call, async token =>
    {
        using var request = Make(call);
        change(request);
        var answer = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, token).ConfigureAwait(false);
        try
        {
            if (!answer.IsSuccessStatusCode) ThrowWhereProblem(answer, await ReadAsync(answer.Content, token).ConfigureAwait(false));
            return answer;
        }
        catch
        {
            answer.Dispose();
            throw;
        }
    }, cancel);

    private async Task<T> RunAsync<T>(Call call, Func<CancellationToken, Task<T>> make, CancellationToken cancel)
    {
        try
        {
            return await (call.Repeatable ? repeated : once).ExecuteAsync(
                async outer => await (call.MayTakeLong ? oneLongTry : oneTry).ExecuteAsync(
                    async token => await PlainlyAsync(make, token).ConfigureAwait(false), outer).ConfigureAwait(false),
                cancel).ConfigureAwait(false);
        }
        catch (TimeoutRejectedException late)
        {
            var waited = call.MayTakeLong ? Options.PictureTimeout : Options.TryTimeout;
            throw new ServiceUnreachableException(
                UnreachableReason.TimedOut, $"{Options.Address} did not answer within {waited.TotalSeconds:0.#} s.", late);
        }
        catch (BrokenCircuitException stopped)
        {
            throw new ServiceUnreachableException(
                UnreachableReason.Stopped, $"{Options.Address} failed too often; nothing is tried for a while.", stopped)
            { RetryAfter = stopped.RetryAfter ?? Options.StopFor };
        }
    }

    private async Task<T> PlainlyAsync<T>(Func<CancellationToken, Task<T>> make, CancellationToken cancel)
    {
        try
        {
            return await make(cancel).ConfigureAwait(false);
        }
        catch (HttpRequestException failed)
        {
            var never = failed.HttpRequestError is HttpRequestError.ConnectionError or HttpRequestError.NameResolutionError
                or HttpRequestError.SecureConnectionError or HttpRequestError.ProxyTunnelError;
            throw new ServiceUnreachableException(
                never ? UnreachableReason.NoConnection : UnreachableReason.Cut, $"{Options.Address}: {failed.Message}", failed);
        }
        catch (IOException failed)
        {
            throw new ServiceUnreachableException(UnreachableReason.Cut, $"{Options.Address}: {failed.Message}", failed);
        }
        catch (OperationCanceledException failed) when (!cancel.IsCancellationRequested)
        {
            // The HttpClient that was handed in has a limit of its own.
            throw new ServiceUnreachableException(UnreachableReason.TimedOut, $"{Options.Address} did not answer in time.", failed);
        }
    }

    private HttpRequestMessage Make(Call call)
    {
        var request = new HttpRequestMessage(call.Method, new Uri(Options.Address, call.Path));
        if (call.Body is { } body)
            request.Content = new ReadOnlyMemoryContent(body) { Headers = { ContentType = new MediaTypeHeaderValue(call.MediaType) } };
        if (call.WithKey && Options.Key() is { Length: > 0 } key) request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
        // What the clock shows at this try, not at the first: it may have been set between.
        if (call.ShowsClock) request.Headers.Add(Envelope.DeviceClockHeader, Call.Time(Clock.GetUtcNow()));
        if (call.KnownTag is { } tag) request.Headers.TryAddWithoutValidation("If-None-Match", tag);
        return request;
    }

    private async Task<byte[]> ReadAsync(HttpContent content, CancellationToken cancel)
    {
        var stream = await content.ReadAsStreamAsync(cancel).ConfigureAwait(false);
        await using var _ = stream.ConfigureAwait(false);
        using var all = new MemoryStream();
        var buffer = new byte[16 * 1024];
        int read;
        while ((read = await stream.ReadAsync(buffer, cancel).ConfigureAwait(false)) > 0)
        {
            if (all.Length + read > Options.MostAnswerBytes)
                throw new UnreadableAnswerException($"{Options.Address} sent an answer of more than {Options.MostAnswerBytes} bytes.");
            all.Write(buffer, 0, read);
        }

        return all.ToArray();
    }

    private void ThrowWhereProblem(HttpResponseMessage answer, byte[] body)
    {
        if (answer.IsSuccessStatusCode || answer.StatusCode == HttpStatusCode.NotModified) return;
        var status = (int)answer.StatusCode;
        throw new ProblemException(ProblemOf(body) ?? Nameless(status), status) { RetryAfter = RetryAfterOf(answer) };
    }

    private TimeSpan? RetryAfterOf(HttpResponseMessage answer)
    {
        var asked = answer.Headers.RetryAfter is not { } header ? null : header.Delta ?? header.Date - Clock.GetUtcNow();
        return asked is { } wait && wait < TimeSpan.Zero ? TimeSpan.Zero : asked;
    }

    private static Problem? ProblemOf(byte[] body)
    {
        try
        {
            return JsonSerializer.Deserialize<Problem>(body, WireJson.Lenient) is { Type: not null, Title: not null } problem ? problem : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private static Problem Nameless(int status) => new()
    {
        Type = "about:blank",
        Title = $"The answer has the status {status} and says no more",
        Status = status,
    };

    private T Read<T>(Reply reply)
    {
        try
        {
            return JsonSerializer.Deserialize<T>(reply.Body, WireJson.Lenient)
                ?? throw new UnreadableAnswerException($"{Options.Address} answered nothing where the contract promises something.");
        }
        catch (JsonException bad)
        {
            throw new UnreadableAnswerException($"{Options.Address} answered something else than the contract says: {bad.Message}", bad);
        }
    }
}
