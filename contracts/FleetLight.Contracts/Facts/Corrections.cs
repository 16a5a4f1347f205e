using System.Text.Json;

namespace FleetLight.Contracts.Facts;

/// <summary>An earlier fact was wrong: it is withdrawn, or other data counts in its place. Both facts are kept.</summary>
[FactType("fleetlight.fact.corrected.v1")]
public sealed record FactCorrected : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The <c>source</c> of the fact meant; the sender's own where absent.</summary>
    [Text(200)]
    public string? TargetSource { get; init; }

    /// <summary>The <c>id</c> of the fact meant.</summary>
    [Text(128)]
    public required string TargetId { get; init; }

    /// <summary>The <c>type</c> of the fact meant. A correction is not itself corrected: a later correction of the same fact counts in its place.</summary>
    [Text(80)]
    public required string TargetType { get; init; }

    /// <summary>What becomes of it.</summary>
    public required CorrectionAction Action { get; init; }

    /// <summary>Why.</summary>
    [Text(500)]
    public required string Reason { get; init; }

    /// <summary>The data that counts instead, of the type named (for a replacement). The device's time of the fact stays.</summary>
    public JsonElement? Replacement { get; init; }
}

/// <summary>Two ids turned out to be one thing: everything recorded of the second counts for the first.</summary>
[FactType("fleetlight.things.joined.v1")]
public sealed record ThingsJoined : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>Kind of the thing: a duct, a cable or a box.</summary>
    public required ThingKind Kind { get; init; }

    /// <summary>The id that stays.</summary>
    [ThingId]
    public required string KeptId { get; init; }

    /// <summary>The id that means the same thing.</summary>
    [ThingId]
    public required string SameId { get; init; }
}
