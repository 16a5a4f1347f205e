using System.Security.Cryptography;

namespace FleetLight.Service.Secrets;

/// <summary>Secrets that sign what is posted to a receiver (Standard Webhooks), as their holders get them.</summary>
public static class SigningSecret
{
    /// <summary>How long an earlier secret signs beside the new one.</summary>
    public static readonly TimeSpan Both = TimeSpan.FromHours(24);

    /// <summary>A new one: 256 random bits.</summary>
    public static string Make() => "whsec_" + Convert.ToBase64String(RandomNumberGenerator.GetBytes(32));
}

/// <summary>A sealed secret, and for a while the one before it.</summary>
/// <param name="Sealed">The secret that signs.</param>
/// <param name="Before">The secret that it replaced.</param>
/// <param name="BeforeUntil">Until when that one signs too.</param>
public sealed record SealedSecrets(string? Sealed, string? Before = null, DateTimeOffset? BeforeUntil = null)
{
    /// <summary>The secrets that sign at that time, the new one first; none where this node cannot open it.</summary>
    public string[]? Open(SecretSeal seal, string organisation, string owner, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(seal);
        if (seal.Open(Sealed, organisation, owner) is not { } current) return null;
        return now < BeforeUntil && seal.Open(Before, organisation, owner) is { } before ? [current, before] : [current];
    }

    /// <summary>A new secret in place of the one that signed; that one signs on for a while.</summary>
    public SealedSecrets Replace(string secret, SecretSeal seal, string organisation, string owner, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(seal);
        return new SealedSecrets(seal.Seal(secret, organisation, owner), Sealed, now + SigningSecret.Both);
    }

    /// <summary>The same, sealed with the key that seals now; none where nothing has to change or can.</summary>
    public SealedSecrets? Again(SecretSeal seal, string organisation, string owner)
    {
        ArgumentNullException.ThrowIfNull(seal);
        var current = Again(Sealed);
        var before = Again(Before);
        return current == Sealed && before == Before ? null : this with { Sealed = current, Before = before };

        string? Again(string? text) =>
            text is null || seal.IsCurrent(text) || seal.Open(text, organisation, owner) is not { } secret ? text : seal.Seal(secret, organisation, owner);
    }
}
