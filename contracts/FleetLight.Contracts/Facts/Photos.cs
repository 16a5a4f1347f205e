namespace FleetLight.Contracts.Facts;

/// <summary>A photo was taken of a thing. The fact is sent first; the bytes follow by themselves when there is a signal for them.</summary>
[FactType("fleetlight.photo.taken.v1")]
public sealed record PhotoTaken : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>Kind of the thing that it shows.</summary>
    public required ThingKind Kind { get; init; }

    /// <summary>The thing that it shows; the site itself for a photo of the site.</summary>
    [ThingId]
    public required string ThingId { get; init; }

    /// <summary>SHA-256 of the picture's bytes, 64 hexadecimal digits in lower case: it names the picture.</summary>
    [Text(64)]
    [Form(PictureLimits.DigestPattern, "64 hexadecimal digits, a to f in lower case")]
    public required string Sha256 { get; init; }

    /// <summary>Media type of the picture.</summary>
    [Text(20)]
    [Form(PictureLimits.MediaTypePattern, "image/jpeg, image/png or image/webp")]
    public required string MediaType { get; init; }

    /// <summary>Size of the picture, bytes, 1 to 104,857,600. A service may take less: it says so when the bytes come.</summary>
    [Quantity("B", 1, PictureLimits.MostBytes)]
    public required int SizeBytes { get; init; }

    /// <summary>What is to be seen.</summary>
    [Text(500)]
    public string? Caption { get; init; }

    /// <summary>Where it was taken. The picture may hold a position as well (EXIF), which nobody takes out.</summary>
    public GeoPoint? Position { get; init; }
}

/// <summary>What holds for every picture.</summary>
public static class PictureLimits
{
    /// <summary>Pattern of a SHA-256 digest.</summary>
    public const string DigestPattern = "^[0-9a-f]{64}$";

    /// <summary>Pattern of the media types that are taken.</summary>
    public const string MediaTypePattern = "^image/(jpeg|png|webp)$";

    /// <summary>Most bytes of a picture that a fact may state.</summary>
    public const int MostBytes = 100 * 1024 * 1024;
}
