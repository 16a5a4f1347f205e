using Polly;
using Polly.CircuitBreaker;
using Polly.Retry;
using Polly.Timeout;

namespace FleetLight.Client.Sending;

/// <summary>When a call is tried again, how long one try may take, and when none is made for a while.</summary>
internal static class Patience
{
    private const double FailuresToStop = 0.5;
    private const double MostLater = 0.25;
    private static readonly TimeSpan Counted = TimeSpan.FromSeconds(30);

    /// <summary>One try, limited in time; stopped where too many failed shortly before.</summary>
    public static ResiliencePipeline OneTry(ClientOptions options, TimeProvider clock, TimeSpan timeout) =>
        new ResiliencePipelineBuilder { TimeProvider = clock }
            .AddCircuitBreaker(new CircuitBreakerStrategyOptions
            {
                FailureRatio = FailuresToStop,
                MinimumThroughput = options.TriesBeforeStop,
                SamplingDuration = Counted,
                BreakDuration = options.StopFor,
                ShouldHandle = args => ValueTask.FromResult(TellsOfTrouble(args.Outcome.Exception)),
            })
            .AddTimeout(timeout)
            .Build();

    /// <summary>Several tries, with pauses that grow and are drawn, never shorter than the service asks for.</summary>
    public static ResiliencePipeline Tries(ClientOptions options, TimeProvider clock, Func<double> chance, bool repeatable)
    {
        var builder = new ResiliencePipelineBuilder { TimeProvider = clock };
        if (options.MostRetries == 0) return builder.Build();
        return builder.AddRetry(new RetryStrategyOptions
        {
            MaxRetryAttempts = options.MostRetries,
            BackoffType = DelayBackoffType.Exponential,
            UseJitter = true,
            Delay = options.FirstPause,
            MaxDelay = options.LongestPause,
            Randomizer = chance,
            ShouldHandle = args => ValueTask.FromResult(IsTriedAgain(args.Outcome.Exception, options, repeatable)),
            // Later rather than at the moment named, so that a fleet that was told the same does not come back as one.
            DelayGenerator = args => ValueTask.FromResult(
                (args.Outcome.Exception as FleetLightException)?.RetryAfter is { } asked ? asked * (1 + (MostLater * chance())) : (TimeSpan?)null),
        }).Build();
    }

    private static bool IsTriedAgain(Exception? failed, ClientOptions options, bool repeatable) => failed switch
    {
        TimeoutRejectedException => repeatable,
        FleetLightException { IsPassing: true } passing => passing.RetryAfter is not { } asked || asked <= options.LongestPause
            ? repeatable || WasNotHandled(passing)
            : false,
        _ => false,
    };

    private static bool WasNotHandled(FleetLightException failed) =>
        failed is ServiceUnreachableException { Reason: UnreachableReason.NoConnection } or ProblemException { Status: 429 or 503 };

    // Being asked to wait is no trouble: it is waited for.
    private static bool TellsOfTrouble(Exception? failed) =>
        failed is TimeoutRejectedException or ServiceUnreachableException or UnreadableAnswerException
            or ProblemException { Status: >= 500, RetryAfter: null };
}
