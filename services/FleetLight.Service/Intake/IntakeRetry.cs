using FleetLight.Service.Hosting;
using Npgsql;
using Polly;
using Polly.Retry;

namespace FleetLight.Service.Intake;

/// <summary>
/// Runs the whole handling of a batch again, with a fresh session, after the database failed in passing. That is safe
/// because a fact that was recorded the first time is known the second time.
/// </summary>
public sealed class IntakeRetry(ILoggerFactory loggers)
{
    private readonly ResiliencePipeline pipeline = new ResiliencePipelineBuilder()
        .AddRetry(new RetryStrategyOptions
        {
            ShouldHandle = new PredicateBuilder().Handle<NpgsqlException>(failed => failed.IsTransient),
            MaxRetryAttempts = 2,
            Delay = TimeSpan.FromMilliseconds(50),
            BackoffType = DelayBackoffType.Exponential,
            UseJitter = true,
        })
        .ConfigureTelemetry(loggers)
        .Build();

    /// <summary>Runs the work, at most three times and no longer than a caller should wait.</summary>
    public async Task<T> RunAsync<T>(Func<CancellationToken, Task<T>> work, CancellationToken cancel) =>
        await TimeLimit.RunAsync(TimeLimit.Answer, async limited => await pipeline.ExecuteAsync(async token => await work(token), limited), cancel);
}
