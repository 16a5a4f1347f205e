using FleetLight.Contracts.Facts;

namespace FleetLight.Service.Access;

/// <summary>What somebody asks for who makes a key.</summary>
public sealed record KeyRequest
{
    /// <summary>What people call it, at most 80 characters.</summary>
    [Text(80)]
    public required string Name { get; init; }

    /// <summary>What it allows; either this or a role.</summary>
    public Scope[]? Scopes { get; init; }

    /// <summary>What its holder is, which says what it allows; either this or scopes.</summary>
    public Role? Role { get; init; }

    /// <summary>The device that it speaks for, a URI reference of at most 200 characters; needed to post events; an office's key gets its own.</summary>
    [Text(200)]
    public string? Source { get; init; }

    /// <summary>The organisation; the caller's own where absent. Only the host's key may name another.</summary>
    public string? Organisation { get; init; }
}

/// <summary>A key as it is shown. The key itself is shown once, when it is made.</summary>
public sealed record KeyView
{
    /// <summary>Public part of the key.</summary>
    public required string Id { get; init; }

    /// <summary>What people call it.</summary>
    public required string Name { get; init; }

    /// <summary>The organisation.</summary>
    public required string Organisation { get; init; }

    /// <summary>The device that it speaks for.</summary>
    public string? Source { get; init; }

    /// <summary>What the device that holds it calls itself.</summary>
    public string? Device { get; init; }

    /// <summary>The role that it was made with.</summary>
    public Role? Role { get; init; }

    /// <summary>What it allows.</summary>
    public required Scope[] Scopes { get; init; }

    /// <summary>When it was made.</summary>
    public required DateTimeOffset CreatedAt { get; init; }

    /// <summary>When it was revoked.</summary>
    public DateTimeOffset? RevokedAt { get; init; }

    /// <summary>Until when it is in force at the latest; for ever where absent.</summary>
    public DateTimeOffset? ValidUntil { get; init; }

    /// <summary>The key; only in the answer that makes it.</summary>
    public string? Key { get; init; }
}

/// <summary>Who calls.</summary>
public sealed record CallerView
{
    /// <summary>Public part of the key; for a token, its issuer and subject.</summary>
    public required string KeyId { get; init; }

    /// <summary>What people call it.</summary>
    public required string Name { get; init; }

    /// <summary>The organisation.</summary>
    public required string Organisation { get; init; }

    /// <summary>The device that it speaks for.</summary>
    public string? Source { get; init; }

    /// <summary>Its role, where it has one.</summary>
    public Role? Role { get; init; }

    /// <summary>What it allows.</summary>
    public required Scope[] Scopes { get; init; }

    /// <summary>The sites that its device is assigned; absent where it speaks for no device.</summary>
    public IReadOnlyList<string>? Sites { get; init; }

    /// <summary>When it ends, where it is a token.</summary>
    public DateTimeOffset? ValidUntil { get; init; }
}

/// <summary>A key in place of another. It is shown once.</summary>
public sealed record RotatedKey
{
    /// <summary>The new key.</summary>
    public required string Key { get; init; }

    /// <summary>The new key's public part.</summary>
    public required string KeyId { get; init; }

    /// <summary>When the old one ends at the latest; it ends when the new one is first used.</summary>
    public required DateTimeOffset OldValidUntil { get; init; }
}
