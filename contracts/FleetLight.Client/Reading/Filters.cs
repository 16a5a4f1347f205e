using FleetLight.Contracts.Views;

namespace FleetLight.Client.Reading;

/// <summary>Which circuits are asked for; what is absent lets all through.</summary>
public sealed record CircuitFilter
{
    /// <summary>Part of the name or the id.</summary>
    public string? Text { get; init; }

    /// <summary>The site.</summary>
    public string? Site { get; init; }

    /// <summary>The phase reached.</summary>
    public CircuitPhase? Phase { get; init; }

    /// <summary>The verdict.</summary>
    public CircuitVerdict? Verdict { get; init; }

    /// <summary>A rule that finds something on the circuit.</summary>
    public string? Rule { get; init; }
}

/// <summary>Which alerts are asked for; what is absent lets all that stand through.</summary>
public sealed record AlertFilter
{
    /// <summary>The site.</summary>
    public string? Site { get; init; }

    /// <summary>A circuit that it touches.</summary>
    public string? Circuit { get; init; }

    /// <summary>How much it matters.</summary>
    public AlertSeverity? Severity { get; init; }

    /// <summary>The rule.</summary>
    public string? Rule { get; init; }

    /// <summary>Where it stands; raised and acknowledged where absent.</summary>
    public AlertStanding? Standing { get; init; }
}
