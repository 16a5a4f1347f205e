using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Views;

namespace FleetLight.Contracts.Proofs;

/// <summary>The public half of a key that signs checkpoints: ECDSA on the curve P-256 (RFC 7518, 6.2).</summary>
/// <param name="X">First coordinate, 32 bytes.</param>
/// <param name="Y">Second coordinate, 32 bytes.</param>
public sealed record CheckpointKey(byte[] X, byte[] Y)
{
    /// <summary>The key's name: its thumbprint (RFC 7638), so that a name never means two keys.</summary>
    public string Id => Base64Url.EncodeToString(SHA256.HashData(Encoding.ASCII.GetBytes(
        $$"""{"crv":"P-256","kty":"EC","x":"{{Base64Url.EncodeToString(X)}}","y":"{{Base64Url.EncodeToString(Y)}}"}""")));

    /// <summary>The key of a JSON Web Key (RFC 7517); none where it is no such key.</summary>
    public static CheckpointKey? Read(JsonElement jwk)
    {
        try
        {
            return Of(
                jwk.GetProperty("kty").GetString(), jwk.GetProperty("crv").GetString(), jwk.GetProperty("x").GetString(), jwk.GetProperty("y").GetString());
        }
        catch (Exception unread) when (unread is KeyNotFoundException or InvalidOperationException)
        {
            return null;
        }
    }

    /// <summary>The keys of a set (RFC 7517, 5); what is no key of this kind is passed over.</summary>
    public static IReadOnlyList<CheckpointKey> ReadSet(JsonElement set) =>
        set.ValueKind == JsonValueKind.Object && set.TryGetProperty("keys", out var keys) && keys.ValueKind == JsonValueKind.Array
            ? [.. keys.EnumerateArray().Select(Read).OfType<CheckpointKey>()]
            : [];

    /// <summary>The keys of a set as the service answers it; what is no key of this kind is passed over.</summary>
    public static IReadOnlyList<CheckpointKey> Of(LedgerKeySet set) =>
        [.. set.Keys.Select(key => Of(key.Kty, key.Crv, key.X, key.Y)).OfType<CheckpointKey>()];

    /// <summary>Whether the signature over these bytes is this key's (ES256).</summary>
    public bool HasSealed(ReadOnlySpan<byte> bytes, ReadOnlySpan<byte> signature)
    {
        try
        {
            using var key = ECDsa.Create(new ECParameters { Curve = ECCurve.NamedCurves.nistP256, Q = new ECPoint { X = X, Y = Y } });
            return key.VerifyData(bytes, signature, HashAlgorithmName.SHA256, DSASignatureFormat.IeeeP1363FixedFieldConcatenation);
        }
        catch (CryptographicException)
        {
            // No point of the curve.
            return false;
        }
    }

    private static CheckpointKey? Of(string? kty, string? crv, string? x, string? y)
    {
        try
        {
            if (kty != "EC" || crv != "P-256") return null;
            var key = new CheckpointKey(Base64Url.DecodeFromChars(x), Base64Url.DecodeFromChars(y));
            return key.X.Length == 32 && key.Y.Length == 32 ? key : null;
        }
        catch (FormatException)
        {
            return null;
        }
    }
}

/// <summary>What became of a signed checkpoint when it was looked at.</summary>
public enum SealVerdict
{
    /// <summary>It is signed by one of the keys.</summary>
    Holds,

    /// <summary>It is none of the texts that are written here.</summary>
    Unreadable,

    /// <summary>It names a key that is not among those that are known.</summary>
    KeyUnknown,

    /// <summary>It names a known key, whose signature it does not bear.</summary>
    SignatureWrong,
}

/// <summary>A checkpoint with its signature: a JSON Web Signature in compact form (RFC 7515), algorithm ES256.</summary>
public static class CheckpointSeal
{
    /// <summary>Signs a checkpoint.</summary>
    /// <param name="note">What it says.</param>
    /// <param name="keyId">Name of the key.</param>
    /// <param name="sign">Signs bytes: ECDSA with SHA-256, both numbers of 32 bytes one behind the other.</param>
    public static string Write(CheckpointNote note, string keyId, Func<byte[], byte[]> sign)
    {
        var signed = $"{Base64Url.EncodeToString(Encoding.ASCII.GetBytes($$"""{"alg":"ES256","kid":"{{keyId}}"}"""))}.{Base64Url.EncodeToString(note.Payload())}";
        return $"{signed}.{Base64Url.EncodeToString(sign(Encoding.ASCII.GetBytes(signed)))}";
    }

    /// <summary>Reads and checks one.</summary>
    public static (SealVerdict Verdict, CheckpointNote? Note, string? KeyId) Check(string text, IReadOnlyList<CheckpointKey> keys)
    {
        var parts = text.Split('.');
        if (parts.Length != 3) return (SealVerdict.Unreadable, null, null);
        try
        {
            using var header = JsonDocument.Parse(Base64Url.DecodeFromChars(parts[0]));
            if (header.RootElement.GetProperty("alg").GetString() != "ES256" || header.RootElement.TryGetProperty("crit", out _)
                || header.RootElement.GetProperty("kid").GetString() is not { } keyId
                || CheckpointNote.Read(Base64Url.DecodeFromChars(parts[1])) is not { } note)
                return (SealVerdict.Unreadable, null, null);
            if (keys.FirstOrDefault(key => key.Id == keyId) is not { } known) return (SealVerdict.KeyUnknown, note, keyId);
            var holds = known.HasSealed(Encoding.ASCII.GetBytes($"{parts[0]}.{parts[1]}"), Base64Url.DecodeFromChars(parts[2]));
            return (holds ? SealVerdict.Holds : SealVerdict.SignatureWrong, note, keyId);
        }
        catch (Exception unread) when (unread is JsonException or FormatException or KeyNotFoundException or InvalidOperationException)
        {
            return (SealVerdict.Unreadable, null, null);
        }
    }
}
