using FleetLight.Contracts.Views;
using Marten.Events;

namespace FleetLight.Service.Photos;

/// <summary>Bytes came in hand. They themselves stand in a table: an event is read again and again, and they are not.</summary>
public sealed record AttachmentKept
{
    /// <summary>Their SHA-256, hexadecimal.</summary>
    public required string Sha256 { get; init; }

    /// <summary>Media type.</summary>
    public required string MediaType { get; init; }

    /// <summary>Number of bytes.</summary>
    public required int SizeBytes { get; init; }

    /// <summary>The device that sent them.</summary>
    public required string Source { get; init; }

    /// <summary>When they came.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>As it is shown.</summary>
    public AttachmentView ToView() => new() { Sha256 = Sha256, MediaType = MediaType, SizeBytes = SizeBytes, KeptAt = At };
}

/// <summary>How attachments stand in the store: one stream each.</summary>
public static class AttachmentEvents
{
    /// <summary>What a device's source may not begin with: the streams here do.</summary>
    public const string Prefix = "attachment:";

    /// <summary>Stream of an attachment.</summary>
    public static string StreamOf(string sha256) => Prefix + sha256;

    /// <summary>Gives the event its stored name.</summary>
    public static void Map(IEventStoreOptions events) => events.MapEventType<AttachmentKept>("fleetlight.attachment.kept.v1");
}
