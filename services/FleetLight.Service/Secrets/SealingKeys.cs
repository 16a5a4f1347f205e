using System.Security.Cryptography;
using System.Text;

namespace FleetLight.Service.Secrets;

/// <summary>
/// The keys that seal secrets: one that seals, and earlier or coming ones that only open. Each is derived from a master secret
/// (HKDF with SHA-256, RFC 5869), so that the master itself encrypts nothing and may have any length from 32 bytes on.
/// </summary>
public sealed class SealingKeys
{
    /// <summary>Least bytes of a master secret.</summary>
    public const int LeastBytes = 32;

    private static readonly byte[] ForSealing = "fleetlight sealing v1"u8.ToArray();
    private static readonly byte[] ForNaming = "fleetlight sealing v1 name"u8.ToArray();

    private readonly Dictionary<string, byte[]> keys = new(StringComparer.Ordinal);

    /// <summary>Derives them.</summary>
    /// <param name="current">The master secret that seals from now on.</param>
    /// <param name="others">Masters whose seals are still opened.</param>
    /// <param name="isOwn">Whether the current one is this node's own, because none was configured.</param>
    public SealingKeys(byte[] current, IEnumerable<byte[]> others, bool isOwn)
    {
        ArgumentNullException.ThrowIfNull(current);
        ArgumentNullException.ThrowIfNull(others);
        CurrentId = Add(current);
        foreach (var other in others) Add(other);
        IsOwn = isOwn;
    }

    /// <summary>Name of the key that seals: it follows from the key and says nothing of it.</summary>
    public string CurrentId { get; }

    /// <summary>Whether no master was configured and this node made one for itself.</summary>
    public bool IsOwn { get; }

    /// <summary>Bytes of the key that seals.</summary>
    public ReadOnlySpan<byte> Current => keys[CurrentId];

    /// <summary>The key of that name; none where this node does not have it.</summary>
    public byte[]? Find(string id) => keys.GetValueOrDefault(id);

    /// <summary>Reads a master secret: Base64 of 32 bytes or more.</summary>
    public static bool TryRead(string text, out byte[] master)
    {
        ArgumentNullException.ThrowIfNull(text);
        var bytes = new byte[text.Length];
        var isBase64 = Convert.TryFromBase64String(text.Trim(), bytes, out var length);
        master = isBase64 ? bytes[..length] : [];
        return isBase64 && length >= LeastBytes;
    }

    private string Add(byte[] master)
    {
        var id = Convert.ToHexStringLower(HKDF.DeriveKey(HashAlgorithmName.SHA256, master, 6, salt: null, ForNaming));
        keys[id] = HKDF.DeriveKey(HashAlgorithmName.SHA256, master, 32, salt: null, ForSealing);
        return id;
    }
}

/// <summary>
/// Seals secrets that the service has to read again, for they sign: AES-256-GCM (NIST SP 800-38D) with a random nonce. What it
/// belongs to is bound in, so that a sealed text that is put elsewhere does not open.
/// </summary>
public sealed class SecretSeal(SealingKeys keys)
{
    private const string Version = "s1";
    private const int NonceBytes = 12;
    private const int TagBytes = 16;

    /// <summary>The keys.</summary>
    public SealingKeys Keys => keys;

    /// <summary>Seals a secret.</summary>
    /// <param name="secret">The secret.</param>
    /// <param name="organisation">Whose it is.</param>
    /// <param name="owner">What it belongs to within the organisation, for instance the webhook's id.</param>
    public string Seal(string secret, string organisation, string owner)
    {
        ArgumentNullException.ThrowIfNull(secret);
        var plain = Encoding.UTF8.GetBytes(secret);
        var all = new byte[NonceBytes + plain.Length + TagBytes];
        RandomNumberGenerator.Fill(all.AsSpan(0, NonceBytes));
        using var aes = new AesGcm(keys.Current, TagBytes);
        aes.Encrypt(all.AsSpan(0, NonceBytes), plain, all.AsSpan(NonceBytes, plain.Length), all.AsSpan(NonceBytes + plain.Length), Bound(organisation, owner));
        return $"{Version}.{keys.CurrentId}.{Convert.ToBase64String(all)}";
    }

    /// <summary>Opens a sealed secret; none where this node does not have its key, or it was sealed for something else.</summary>
    public string? Open(string? text, string organisation, string owner)
    {
        if (text?.Split('.') is not [Version, var id, var body] || keys.Find(id) is not { } key) return null;
        var all = new byte[body.Length];
        if (!Convert.TryFromBase64String(body, all, out var length) || length < NonceBytes + TagBytes) return null;
        var plain = new byte[length - NonceBytes - TagBytes];
        using var aes = new AesGcm(key, TagBytes);
        try
        {
            aes.Decrypt(
                all.AsSpan(0, NonceBytes), all.AsSpan(NonceBytes, plain.Length), all.AsSpan(NonceBytes + plain.Length, TagBytes), plain, Bound(organisation, owner));
        }
        catch (AuthenticationTagMismatchException)
        {
            return null;
        }

        return Encoding.UTF8.GetString(plain);
    }

    /// <summary>Whether a sealed text was sealed with the key that seals now.</summary>
    public bool IsCurrent(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text.StartsWith($"{Version}.{keys.CurrentId}.", StringComparison.Ordinal);
    }

    // No name of an organisation holds a line break.
    private static byte[] Bound(string organisation, string owner) => Encoding.UTF8.GetBytes($"{organisation}\n{owner}");
}
