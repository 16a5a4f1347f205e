using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Wire;

/// <summary>Who says so, when it happened and when it was known: what is kept beside the data of every fact.</summary>
public sealed record FactOrigin
{
    /// <summary>Source of the envelope: the device.</summary>
    public required string Source { get; init; }

    /// <summary>Id of the envelope: unique within the source.</summary>
    public required string Id { get; init; }

    /// <summary>The device's running number.</summary>
    public required int RunningNumber { get; init; }

    /// <summary>When it happened, by the device's own clock, as sent.</summary>
    public required DateTimeOffset DeviceTime { get; init; }

    /// <summary>When it happened, corrected by the clock error that the device showed. This orders the facts.</summary>
    public required DateTimeOffset HappenedAt { get; init; }

    /// <summary>When it was known: the server's clock.</summary>
    public required DateTimeOffset RecordedAt { get; init; }

    /// <summary>What is doubtful about its time.</summary>
    public TimeDoubt? TimeDoubt { get; init; }

    /// <summary>How far the device's clock was ahead when it sent, s.</summary>
    public double? ClockErrorSeconds { get; init; }

    /// <summary>First 128 bits of SHA-256 over type, time, running number and data, hexadecimal: the same id with other content shows.</summary>
    public required string Digest { get; init; }

    /// <summary>The key that mended it, where it had been refused first.</summary>
    public string? MendedBy { get; init; }
}

/// <summary>A fact as it is kept.</summary>
/// <param name="Of">Who says so, and when.</param>
/// <param name="Data">What happened.</param>
public sealed record RecordedFact(FactOrigin Of, IFact Data);
