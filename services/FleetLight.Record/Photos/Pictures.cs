namespace FleetLight.Record.Photos;

/// <summary>Tells pictures apart by the bytes with which they begin.</summary>
public static class Pictures
{
    /// <summary>The media types that are taken.</summary>
    public static IReadOnlyList<string> MediaTypes { get; } = ["image/jpeg", "image/png", "image/webp"];

    /// <summary>Number of bytes that have to be there to tell.</summary>
    public const int BytesToTell = 12;

    /// <summary>Media type of the picture that begins with these bytes; none where it is none that is taken.</summary>
    public static string? MediaTypeOf(ReadOnlySpan<byte> bytes)
    {
        // A marker "start of image" and the beginning of the next marker (ITU-T T.81, B.1.1.3 and B.2.1).
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF])) return "image/jpeg";
        // The signature of PNG (W3C PNG, third edition, 5.2).
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A])) return "image/png";
        // A RIFF file whose form is WEBP (RFC 9649, 2.4); the length between them is not looked at.
        if (bytes.Length >= BytesToTell && bytes.StartsWith("RIFF"u8) && bytes[8..BytesToTell].SequenceEqual("WEBP"u8)) return "image/webp";
        return null;
    }

    /// <summary>The usual ending of a file of that media type, without a dot.</summary>
    public static string EndingOf(string mediaType) => mediaType switch
    {
        "image/jpeg" => "jpg",
        "image/png" => "png",
        _ => "webp",
    };
}
