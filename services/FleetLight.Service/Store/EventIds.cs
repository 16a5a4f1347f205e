using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace FleetLight.Service.Store;

/// <summary>
/// Identifiers of the store that follow from what they name, so that a fact sent twice, an alert raised twice or a
/// delivery made twice meets itself.
/// </summary>
public static class EventIds
{
    /// <summary>Id of the event that keeps a fact.</summary>
    public static Guid OfFact(string organisation, string source, string id) => Of("fact", organisation, source, id);

    /// <summary>An id that follows from the parts: a UUID of version 8 (RFC 9562) over SHA-256.</summary>
    public static Guid Of(params ReadOnlySpan<string> parts)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Span<byte> length = stackalloc byte[4];
        foreach (var part in parts)
        {
            // The length before each part keeps ("ab", "c") from meeting ("a", "bc").
            var bytes = Encoding.UTF8.GetBytes(part);
            BinaryPrimitives.WriteInt32BigEndian(length, bytes.Length);
            hash.AppendData(length);
            hash.AppendData(bytes);
        }

        Span<byte> digest = stackalloc byte[32];
        hash.GetHashAndReset(digest);
        digest[6] = (byte)((digest[6] & 0x0F) | 0x80);
        digest[8] = (byte)((digest[8] & 0x3F) | 0x80);
        return new Guid(digest[..16], bigEndian: true);
    }
}
