using System.Globalization;
using System.Net.Http.Headers;
using Polly;
using Polly.CircuitBreaker;
using Polly.Registry;
using Polly.Retry;
using Polly.Timeout;
using StandardWebhooks;

namespace FleetLight.Service.Alerts;

/// <summary>What is posted to a receiver.</summary>
/// <param name="Id">The message; sent as <c>webhook-id</c>, the same on every attempt.</param>
/// <param name="MediaType">Media type of the body.</param>
/// <param name="Body">The body.</param>
public sealed record Posted(string Id, string MediaType, string Body);

/// <summary>
/// Posts to the receivers of webhooks, signed, with a few quick retries; one that keeps failing is left alone for a while.
/// </summary>
public sealed class ReceiverCalls(IHttpClientFactory http, TimeProvider clock, DeliveryOptions options, ILoggerFactory loggers) : IDisposable
{
    private readonly ResiliencePipelineRegistry<string> pipelines = new();

    /// <summary>Posts once; what went wrong, or none where it was taken.</summary>
    /// <param name="receiver">Id of the webhook or subscription, whose failures count together.</param>
    /// <param name="url">Where to.</param>
    /// <param name="secrets">What signs, as its holder has it; each makes a signature.</param>
    /// <param name="what">What to post.</param>
    /// <param name="cancel">Cancels.</param>
    public async Task<string?> SendAsync(string receiver, string url, IReadOnlyList<string> secrets, Posted what, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(what);
        ArgumentNullException.ThrowIfNull(secrets);
        try
        {
            var pipeline = pipelines.GetOrAddPipeline(receiver, builder => Build(builder));
            using var answer = await pipeline.ExecuteAsync(async token => await PostAsync(url, secrets, what, token), cancel);
            return answer.IsSuccessStatusCode ? null : $"The receiver answered {(int)answer.StatusCode}.";
        }
        catch (BrokenCircuitException)
        {
            return "The receiver failed too often lately; it is left alone for a while.";
        }
        catch (Exception failed) when (failed is HttpRequestException or TimeoutRejectedException or FormatException or IOException)
        {
            return failed is TimeoutRejectedException ? "The receiver did not answer in time." : failed.Message;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => pipelines.Dispose();

    private async Task<HttpResponseMessage> PostAsync(string url, IReadOnlyList<string> secrets, Posted what, CancellationToken cancel)
    {
        var sentAt = clock.GetUtcNow();
        using var request = new HttpRequestMessage(HttpMethod.Post, url);
        request.Content = new StringContent(what.Body);
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(what.MediaType);
        request.Headers.Add("webhook-id", what.Id);
        request.Headers.Add("webhook-timestamp", sentAt.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture));
        request.Headers.Add("webhook-signature", string.Join(' ', secrets.Select(secret => new StandardWebhook(secret).Sign(what.Id, sentAt, what.Body))));
        return await http.CreateClient(nameof(DeliveryWorker)).SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancel);
    }

    private void Build(ResiliencePipelineBuilder builder)
    {
        builder.TimeProvider = clock;
        builder.ConfigureTelemetry(loggers);
        builder
            .AddRetry(new RetryStrategyOptions
            {
                ShouldHandle = new PredicateBuilder().Handle<HttpRequestException>().Handle<TimeoutRejectedException>()
                    .HandleResult(result => result is HttpResponseMessage { StatusCode: >= System.Net.HttpStatusCode.InternalServerError }),
                MaxRetryAttempts = 2,
                Delay = options.ShortWait,
                BackoffType = DelayBackoffType.Exponential,
                UseJitter = true,
            })
            .AddCircuitBreaker(new CircuitBreakerStrategyOptions
            {
                ShouldHandle = new PredicateBuilder().Handle<HttpRequestException>().Handle<TimeoutRejectedException>(),
                FailureRatio = 0.9,
                MinimumThroughput = 10,
                SamplingDuration = TimeSpan.FromSeconds(30),
                BreakDuration = options.BreakFor,
            })
            .AddTimeout(options.Timeout);
    }
}
