using FleetLight.Contracts.Facts;

namespace FleetLight.Service.Access;

/// <summary>A one-time code as it is kept: only its hash.</summary>
public sealed class Enrolment
{
    /// <summary>The enrolment.</summary>
    public required string Id { get; set; }

    /// <summary>SHA-256 of the code. It has 60 random bits, works once, lives a week at most, and guessing it here is limited.</summary>
    public required string Hash { get; set; }

    /// <summary>The organisation.</summary>
    public required string Organisation { get; set; }

    /// <summary>What people call what is enrolled.</summary>
    public required string Name { get; set; }

    /// <summary>What it becomes.</summary>
    public required Role Role { get; set; }

    /// <summary>The device that its key will speak for; none where the role posts no facts.</summary>
    public string? Source { get; set; }

    /// <summary>The sites that it will be assigned.</summary>
    public string[]? Sites { get; set; }

    /// <summary>When the code was issued.</summary>
    public required DateTimeOffset CreatedAt { get; set; }

    /// <summary>Until when it may be exchanged.</summary>
    public required DateTimeOffset ExpiresAt { get; set; }

    /// <summary>When it was exchanged.</summary>
    public DateTimeOffset? UsedAt { get; set; }

    /// <summary>The key that it was exchanged for.</summary>
    public string? KeyId { get; set; }

    /// <summary>When it was taken back.</summary>
    public DateTimeOffset? WithdrawnAt { get; set; }

    /// <summary>Where it stands.</summary>
    public EnrolmentState StateAt(DateTimeOffset now) =>
        UsedAt is not null ? EnrolmentState.Used
        : WithdrawnAt is not null ? EnrolmentState.Withdrawn
        : ExpiresAt <= now ? EnrolmentState.Expired
        : EnrolmentState.Open;
}

/// <summary>Where an enrolment stands.</summary>
public enum EnrolmentState
{
    /// <summary>Its code may be exchanged.</summary>
    Open,

    /// <summary>Its code was exchanged.</summary>
    Used,

    /// <summary>Its time is over.</summary>
    Expired,

    /// <summary>It was taken back.</summary>
    Withdrawn,
}

/// <summary>What somebody asks for who enrols a device or a person.</summary>
public sealed record EnrolmentRequest
{
    /// <summary>What people call what is enrolled, at most 80 characters.</summary>
    [Text(80)]
    public required string Name { get; init; }

    /// <summary>What it becomes.</summary>
    public required Role Role { get; init; }

    /// <summary>The device that its key speaks for, a URI reference of at most 200 characters; a new one is made up where absent.</summary>
    [Text(200)]
    public string? Source { get; init; }

    /// <summary>Ids of the sites that it is assigned.</summary>
    [List(0, 200)]
    [ThingId]
    public string[]? Sites { get; init; }

    /// <summary>Number of hours for which the code may be exchanged, 1 to 168; 24 where absent.</summary>
    [Quantity("h", 1, 168)]
    public int? HoursValid { get; init; }
}

/// <summary>An enrolment as it is shown. Its code is shown once, when it is made.</summary>
public sealed record EnrolmentView
{
    /// <summary>The enrolment.</summary>
    public required string Id { get; init; }

    /// <summary>What people call what is enrolled.</summary>
    public required string Name { get; init; }

    /// <summary>What it becomes.</summary>
    public required Role Role { get; init; }

    /// <summary>The device that its key speaks for.</summary>
    public string? Source { get; init; }

    /// <summary>Ids of the sites that it is assigned.</summary>
    public IReadOnlyList<string>? Sites { get; init; }

    /// <summary>Where it stands.</summary>
    public required EnrolmentState State { get; init; }

    /// <summary>When the code was issued.</summary>
    public required DateTimeOffset CreatedAt { get; init; }

    /// <summary>Until when it may be exchanged.</summary>
    public required DateTimeOffset ExpiresAt { get; init; }

    /// <summary>When it was exchanged.</summary>
    public DateTimeOffset? UsedAt { get; init; }

    /// <summary>Public part of the key that it was exchanged for.</summary>
    public string? KeyId { get; init; }

    /// <summary>When it was taken back.</summary>
    public DateTimeOffset? WithdrawnAt { get; init; }

    /// <summary>The code; only in the answer that makes it.</summary>
    public string? Code { get; init; }

    /// <summary>What the picture holds: the service's address with the code behind '#'; only in the answer that makes it.</summary>
    public string? Address { get; init; }

    /// <summary>The address as a QR code (ISO/IEC 18004), an SVG picture; only in the answer that makes it.</summary>
    public string? QrSvg { get; init; }

    /// <summary>The same picture out of block characters, for a terminal; only in the answer that makes it.</summary>
    public string? QrText { get; init; }
}

/// <summary>A one-time code, given for a key.</summary>
public sealed record ExchangeRequest
{
    /// <summary>The code; hyphens, blanks and the case of letters do not matter.</summary>
    [Text(40)]
    public required string Code { get; init; }

    /// <summary>What the device calls itself, at most 80 characters.</summary>
    [Text(80)]
    public string? Device { get; init; }
}

/// <summary>What a one-time code was exchanged for. The key is in this answer and nowhere else.</summary>
public sealed record EnrolledKey
{
    /// <summary>The key.</summary>
    public required string Key { get; init; }

    /// <summary>Its public part.</summary>
    public required string KeyId { get; init; }

    /// <summary>The device that it speaks for; absent where its role posts no facts.</summary>
    public string? Source { get; init; }

    /// <summary>The organisation.</summary>
    public required string Organisation { get; init; }

    /// <summary>Its role.</summary>
    public required Role Role { get; init; }

    /// <summary>What it allows.</summary>
    public required Scope[] Scopes { get; init; }
}
