using System.Security.Cryptography;
using System.Text;

namespace FleetLight.Service.Access;

/// <summary>A key as it is kept: the secret itself is not.</summary>
public sealed class KeyRecord
{
    /// <summary>Public part of the key.</summary>
    public required string Id { get; set; }

    /// <summary>SHA-256 of the whole key, hexadecimal. The secret part has 256 random bits, so no slow hash is needed.</summary>
    public required string Hash { get; set; }

    /// <summary>The organisation whose data it opens.</summary>
    public required string Organisation { get; set; }

    /// <summary>What people call it.</summary>
    public required string Name { get; set; }

    /// <summary>The device that it speaks for.</summary>
    public string? Source { get; set; }

    /// <summary>What the device that holds it calls itself.</summary>
    public string? Device { get; set; }

    /// <summary>The role that it was made with. What a role allows is decided when the key is used, not when it was made.</summary>
    public Role? Role { get; set; }

    /// <summary>What it allows, where it was made without a role.</summary>
    public required Scope[] Scopes { get; set; }

    /// <summary>Whether it may make keys for other organisations.</summary>
    public bool Host { get; set; }

    /// <summary>When it was made.</summary>
    public required DateTimeOffset CreatedAt { get; set; }

    /// <summary>When it was revoked.</summary>
    public DateTimeOffset? RevokedAt { get; set; }

    /// <summary>Until when it is in force; for ever where absent.</summary>
    public DateTimeOffset? ValidUntil { get; set; }

    /// <summary>The key that dies when this one is first used.</summary>
    public string? Replaces { get; set; }

    /// <summary>The first key of those that replaced one another up to this one; this one itself where absent.</summary>
    public string? Holder { get; set; }

    /// <summary>What it allows now.</summary>
    public IReadOnlyList<Scope> Allows() => Role is { } role ? Roles.ScopesOf(role) : Scopes;

    /// <summary>Whether it is in force at that time.</summary>
    public bool InForce(DateTimeOffset now) => RevokedAt is null && !(ValidUntil <= now);
}

/// <summary>Makes and hashes keys.</summary>
public static class KeyText
{
    /// <summary>A new key: its public part and the whole text that only its holder gets to know.</summary>
    public static (string Id, string Text) Make()
    {
        var id = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(6));
        var secret = Convert.ToBase64String(RandomNumberGenerator.GetBytes(32)).TrimEnd('=').Replace('+', '-').Replace('/', '_');
        return (id, $"{id}.{secret}");
    }

    /// <summary>What is kept of a key.</summary>
    public static string Hash(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
}
