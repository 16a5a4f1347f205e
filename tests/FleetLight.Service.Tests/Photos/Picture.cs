using System.Security.Cryptography;
using System.Text;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;

namespace FleetLight.Service.Tests.Photos;

/// <summary>Bytes that begin as a picture does, and their digest.</summary>
internal sealed record Picture(byte[] Bytes, string MediaType)
{
    public string Sha256 { get; } = Convert.ToHexStringLower(SHA256.HashData(Bytes));

    public string Path => $"/v1/attachments/{Sha256}";

    /// <summary>A PNG as far as its signature goes, with that text and so many bytes behind it.</summary>
    public static Picture Of(string text, int more = 0) =>
        new([0x89, .. "PNG\r\n\u001a\n"u8, .. Encoding.UTF8.GetBytes(text), .. new byte[more]], "image/png");

    public PhotoTaken Taken(string box = Some.Box, string site = Some.Site, string? caption = null) =>
        Facts.PhotoTaken(ThingKind.Box, box, Sha256, MediaType, Bytes.Length, caption, site);

    public Task<Answer> SendAsync(ApiClient device, string? mediaType = null) => device.PutAsync(Path, Bytes, mediaType ?? MediaType);
}
