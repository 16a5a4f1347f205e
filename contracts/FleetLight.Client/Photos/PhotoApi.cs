using System.Net;
using System.Security.Cryptography;
using FleetLight.Client.Reading;
using FleetLight.Client.Sending;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Photos;

/// <summary>
/// Photos: a device hands the fact of one in as any fact, and the bytes by themselves, at once or weeks later. EXIF data of a
/// picture may hold a position: nobody takes it out.
/// </summary>
public sealed class PhotoApi
{
    private readonly Transport transport;

    internal PhotoApi(Transport transport) => this.transport = transport;

    /// <summary>The digest by which a picture's bytes are named: SHA-256, hexadecimal, in lower case.</summary>
    public static string DigestOf(ReadOnlySpan<byte> picture) => Convert.ToHexStringLower(SHA256.HashData(picture));

    /// <summary>Photos, newest first, page after page: of a site, of things of a kind, of one thing, or all.</summary>
    public IAsyncEnumerable<PhotoView> ListAsync(string? site = null, ThingKind? kind = null, string? thing = null, CancellationToken cancel = default) =>
        Pages.ListAsync<PhotoView>(transport, Pages.With("v1/photos", ("site", site), ("kind", Call.Word(kind)), ("thing", thing)), cancel);

    /// <summary>Hands the bytes of a picture in. Handing in twice is harmless.</summary>
    /// <param name="picture">The bytes.</param>
    /// <param name="mediaType"><c>image/jpeg</c>, <c>image/png</c> or <c>image/webp</c>.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="ProblemException">The picture is not taken: too large, no such picture, or no room left.</exception>
    /// <exception cref="FleetLightException">Nothing is known of what became of it: hand it in again.</exception>
    public Task<AttachmentView> HandInAsync(ReadOnlyMemory<byte> picture, string mediaType, CancellationToken cancel = default) =>
        transport.ReadAsync<AttachmentView>(
            new Call(HttpMethod.Put, PathOf(DigestOf(picture.Span))) { Body = picture, MediaType = mediaType, MayTakeLong = true }, cancel);

    /// <summary>Whether the bytes of a digest are in hand.</summary>
    public async Task<bool> IsInHandAsync(string sha256, CancellationToken cancel = default)
    {
        try
        {
            await transport.SendAsync(new Call(HttpMethod.Head, PathOf(sha256)), null, cancel).ConfigureAwait(false);
            return true;
        }
        catch (ProblemException problem) when (problem.Status == (int)HttpStatusCode.NotFound)
        {
            // An answer to HEAD has no body that could say more.
            return false;
        }
    }

    /// <summary>The bytes of a digest; none where they are not in hand.</summary>
    public async Task<byte[]?> BytesAsync(string sha256, CancellationToken cancel = default)
    {
        try
        {
            return (await transport.SendAsync(Call.Get(PathOf(sha256)) with { MayTakeLong = true }, null, cancel).ConfigureAwait(false)).Body;
        }
        catch (ProblemException problem) when (problem.Problem.Type == ProblemTypes.NotFound)
        {
            return null;
        }
    }

    private static string PathOf(string sha256) => $"v1/attachments/{Uri.EscapeDataString(sha256)}";
}
