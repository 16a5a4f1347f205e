namespace FleetLight.Service.Limits;

/// <summary>How many calls of a kind one caller may make.</summary>
/// <param name="PerSecond">Calls a second, for as long as one likes.</param>
/// <param name="Burst">Calls at once after a pause.</param>
public sealed record RateLimit(double PerSecond, int Burst);

/// <summary>
/// The limits of each kind of call, for each key (or address) on each node. They keep one caller that runs wild from the
/// others; they do not ration what a fleet needs. Set by <c>RateLimits__Read__PerSecond</c> and the like.
/// </summary>
public sealed class RateLimits
{
    /// <summary>Name of the section of the settings.</summary>
    public const string Section = "RateLimits";

    private readonly RateLimit[] limits;

    /// <summary>The stated limits, with those that the settings change.</summary>
    public RateLimits(IConfiguration configuration)
    {
        limits = new RateLimit[Stated.Length];
        for (var kind = 0; kind < limits.Length; kind++)
        {
            var set = configuration.GetSection($"{Section}:{(CallKind)kind}");
            limits[kind] = new RateLimit(
                set.GetValue(nameof(RateLimit.PerSecond), Stated[kind].PerSecond), set.GetValue(nameof(RateLimit.Burst), Stated[kind].Burst));
            if (limits[kind] is not { PerSecond: > 0 and < 1e9, Burst: > 0 })
                throw new InvalidOperationException($"{Section}:{(CallKind)kind} needs a rate and a burst above zero.");
        }
    }

    /// <summary>The limits where nothing is set, in the order of the kinds.</summary>
    public static RateLimit[] Stated { get; } =
    [
        // A device that comes back after weeks sends 1,000 facts a request.
        new(200, 2_000),
        new(1_000, 5_000),
        new(100, 500),
        new(20, 300),
        new(100, 1_000),
        // A person types a code once; 60 random bits do the rest.
        new(0.2, 20),
    ];

    /// <summary>The limit of a kind.</summary>
    public RateLimit this[CallKind kind] => limits[(int)kind];
}
