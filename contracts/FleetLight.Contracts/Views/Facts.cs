using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.Contracts.Views;

/// <summary>What is left of a recorded fact.</summary>
public enum FactStanding
{
    /// <summary>It counts as it was sent; of a correction: it is the one that counts.</summary>
    Counts,

    /// <summary>A correction withdrew it: it counts for nothing.</summary>
    Withdrawn,

    /// <summary>Other data counts in its place.</summary>
    Replaced,

    /// <summary>A correction whose fact is not known yet.</summary>
    Waiting,

    /// <summary>A correction that does not count: it does not fit its fact, or a newer one counts.</summary>
    Overruled,
}

/// <summary>The correction that decides what is left of a fact.</summary>
public sealed record CorrectedBy
{
    /// <summary>The correction, <c>source#id</c>.</summary>
    public required string Fact { get; init; }

    /// <summary>What it does.</summary>
    public required CorrectionAction Action { get; init; }

    /// <summary>Why.</summary>
    public required string Reason { get; init; }

    /// <summary>When it happened.</summary>
    public required DateTimeOffset HappenedAt { get; init; }

    /// <summary>When it was known.</summary>
    public required DateTimeOffset RecordedAt { get; init; }

    /// <summary>The data that counts instead, of the fact's type; none where the fact was withdrawn.</summary>
    public JsonElement? Data { get; init; }
}

/// <summary>A fact as it was recorded, and what is left of it.</summary>
public sealed record FactView
{
    /// <summary>The fact, <c>source#id</c>.</summary>
    public required string Fact { get; init; }

    /// <summary>Source of the envelope: the device.</summary>
    public required string Source { get; init; }

    /// <summary>Id of the envelope: unique within the source.</summary>
    public required string Id { get; init; }

    /// <summary>The device's running number, a count.</summary>
    public required int RunningNumber { get; init; }

    /// <summary>Type of the fact with its version, as it was sent.</summary>
    public required string Type { get; init; }

    /// <summary>Version of the type's schema, a count from 1.</summary>
    public required int SchemaVersion { get; init; }

    /// <summary>The site that the fact names.</summary>
    public required string SiteId { get; init; }

    /// <summary>When it happened, corrected by the clock error that the device showed. This orders the facts.</summary>
    public required DateTimeOffset HappenedAt { get; init; }

    /// <summary>When it happened, by the device's own clock, as sent.</summary>
    public required DateTimeOffset DeviceTime { get; init; }

    /// <summary>How far the device's clock was ahead when it sent, s; none where it did not say.</summary>
    public double? ClockErrorSeconds { get; init; }

    /// <summary>What is doubtful about its time.</summary>
    public TimeDoubt? TimeDoubt { get; init; }

    /// <summary>When it was known: the server's clock.</summary>
    public required DateTimeOffset RecordedAt { get; init; }

    /// <summary>Digest over type, time, running number and data, hexadecimal: whether two facts of one id are the same.</summary>
    public required string Digest { get; init; }

    /// <summary>The key that mended it, where it had been refused first.</summary>
    public string? MendedBy { get; init; }

    /// <summary>The things in whose history it stands as it was sent; of a correction none, it goes with its fact.</summary>
    public required IReadOnlyList<ThingRef> Things { get; init; }

    /// <summary>The data as sent.</summary>
    public required JsonElement Data { get; init; }

    /// <summary>What is left of it now.</summary>
    public required FactStanding Standing { get; init; }

    /// <summary>The correction that decides what is left of it; none where it counts as sent.</summary>
    public CorrectedBy? CorrectedBy { get; init; }

    /// <summary>The fact that a correction corrects, <c>source#id</c>; none of other facts.</summary>
    public string? Corrects { get; init; }
}

/// <summary>Facts, and where to go on.</summary>
public sealed record FactPage
{
    /// <summary>The facts of this page.</summary>
    public required IReadOnlyList<FactView> Items { get; init; }

    /// <summary>
    /// Where to go on. In the order of recording it is always given, at the end too: asked for days later it answers what is new. In
    /// the order of happening none is given on the last page.
    /// </summary>
    public string? Next { get; init; }

    /// <summary>Whether more facts stand after this page now.</summary>
    public required bool More { get; init; }

    /// <summary>
    /// Whether the cursor could not be gone on from, because the list was built again since, and the answer starts at the beginning:
    /// facts that are known already come once more.
    /// </summary>
    public required bool StartsOver { get; init; }
}
