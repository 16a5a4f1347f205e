using System.Threading.RateLimiting;

namespace FleetLight.Service.Calculations;

/// <summary>How many calculations run and wait at once.</summary>
public sealed record CalculationGateOptions
{
    /// <summary>
    /// Most heavy ones that run at once: half the processors, at least one, so that the taking in of facts always finds one.
    /// </summary>
    public int HeavyAtOnce { get; init; } = Math.Max(1, Environment.ProcessorCount / 2);

    /// <summary>Most heavy ones that wait.</summary>
    public int HeavyWaiting { get; init; } = 16;

    /// <summary>Most heavy ones of one organisation that run or wait.</summary>
    public int HeavyOfOne { get; init; } = 8;

    /// <summary>Most light ones that run at once.</summary>
    public int LightAtOnce { get; init; } = Environment.ProcessorCount;

    /// <summary>Most light ones that wait.</summary>
    public int LightWaiting { get; init; } = 256;

    /// <summary>Most light ones of one organisation that run or wait.</summary>
    public int LightOfOne { get; init; } = 128;
}

/// <summary>
/// Lets calculations in, few at a time, so that they never starve the taking in of facts, and so that one organisation never
/// takes all places. How heavy a calculation is shows in its body, so this stands behind the reading of it and not in the
/// way that a request comes in.
/// </summary>
public sealed class CalculationGate(CalculationGateOptions options) : IAsyncDisposable
{
    /// <summary>When to try again, s.</summary>
    public const string RetryAfterSeconds = "1";

    private readonly Lane heavy = new(options.HeavyAtOnce, options.HeavyWaiting, options.HeavyOfOne);
    private readonly Lane light = new(options.LightAtOnce, options.LightWaiting, options.LightOfOne);

    /// <summary>Waits for a place, which is given back by disposing of it; none where too many wait already.</summary>
    public ValueTask<IDisposable?> EnterAsync(string organisation, bool isHeavy, CancellationToken cancel) =>
        (isHeavy ? heavy : light).EnterAsync(organisation, cancel);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await heavy.DisposeAsync();
        await light.DisposeAsync();
    }

    private sealed class Lane(int atOnce, int waiting, int ofOne) : IAsyncDisposable
    {
        private readonly PartitionedRateLimiter<string> each = PartitionedRateLimiter.Create<string, string>(organisation =>
            RateLimitPartition.GetConcurrencyLimiter(organisation, _ => new ConcurrencyLimiterOptions { PermitLimit = ofOne }));

        private readonly ConcurrencyLimiter all = new(new ConcurrencyLimiterOptions { PermitLimit = atOnce, QueueLimit = waiting });

        public async ValueTask<IDisposable?> EnterAsync(string organisation, CancellationToken cancel)
        {
            var own = each.AttemptAcquire(organisation);
            if (!own.IsAcquired) return Left(own);
            try
            {
                var place = await all.AcquireAsync(1, cancel);
                if (place.IsAcquired) return new Place(own, place);
                place.Dispose();
                return Left(own);
            }
            catch
            {
                own.Dispose();
                throw;
            }
        }

        public async ValueTask DisposeAsync()
        {
            await each.DisposeAsync();
            await all.DisposeAsync();
        }

        private static Place? Left(RateLimitLease lease)
        {
            lease.Dispose();
            return null;
        }
    }

    private sealed class Place(RateLimitLease own, RateLimitLease place) : IDisposable
    {
        public void Dispose()
        {
            place.Dispose();
            own.Dispose();
        }
    }
}
