using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>A photo of a thing, whether or not its bytes have come yet.</summary>
public sealed record PhotoView
{
    /// <summary>The fact, <c>source#id</c>.</summary>
    public required string Fact { get; init; }

    /// <summary>The site.</summary>
    public required string SiteId { get; init; }

    /// <summary>Kind of the thing that it shows.</summary>
    public required ThingKind Kind { get; init; }

    /// <summary>The thing that it shows.</summary>
    public required string ThingId { get; init; }

    /// <summary>SHA-256 of its bytes, hexadecimal: <c>/v1/attachments/{sha256}</c> has them once they are in hand.</summary>
    public required string Sha256 { get; init; }

    /// <summary>Media type.</summary>
    public required string MediaType { get; init; }

    /// <summary>Number of bytes.</summary>
    public required int SizeBytes { get; init; }

    /// <summary>What is to be seen.</summary>
    public string? Caption { get; init; }

    /// <summary>Where it was taken.</summary>
    public GeoPoint? Position { get; init; }

    /// <summary>When it was taken.</summary>
    public required DateTimeOffset TakenAt { get; init; }

    /// <summary>When it was known.</summary>
    public required DateTimeOffset RecordedAt { get; init; }

    /// <summary>The device that took it.</summary>
    public required string Source { get; init; }

    /// <summary>Whether its bytes are in hand.</summary>
    public required bool InHand { get; init; }

    /// <summary>When its bytes came.</summary>
    public DateTimeOffset? InHandSince { get; init; }
}

/// <summary>Bytes in hand.</summary>
public sealed record AttachmentView
{
    /// <summary>Their SHA-256, hexadecimal.</summary>
    public required string Sha256 { get; init; }

    /// <summary>Media type.</summary>
    public required string MediaType { get; init; }

    /// <summary>Number of bytes.</summary>
    public required int SizeBytes { get; init; }

    /// <summary>When they came.</summary>
    public required DateTimeOffset KeptAt { get; init; }
}
