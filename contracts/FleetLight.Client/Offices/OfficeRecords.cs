using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Offices;

/// <summary>A device of the organisation.</summary>
public sealed record ListedDevice
{
    /// <summary>The device: the <c>source</c> of its facts.</summary>
    public required string Source { get; init; }

    /// <summary>What people call it.</summary>
    public string? Name { get; init; }

    /// <summary>What it calls itself.</summary>
    public string? Device { get; init; }

    /// <summary>Its role.</summary>
    public string? Role { get; init; }

    /// <summary>Whether any key of it is in force.</summary>
    public bool HasKey { get; init; }

    /// <summary>When it last handed something in.</summary>
    public DateTimeOffset? LastSeen { get; init; }

    /// <summary>How far it is complete.</summary>
    public Receipt? Receipt { get; init; }

    /// <summary>Ids of the sites that it is assigned.</summary>
    public IReadOnlyList<string> Sites { get; init; } = [];
}

/// <summary>What is asked for who enrols a device.</summary>
public sealed record CodeRequest
{
    /// <summary>What people call what is enrolled, at most 80 characters.</summary>
    public required string Name { get; init; }

    /// <summary>What it becomes, for instance <c>device</c>.</summary>
    public required string Role { get; init; }

    /// <summary>The device that it goes on as; a new one where absent.</summary>
    public string? Source { get; init; }

    /// <summary>Ids of the sites that it is assigned.</summary>
    public string[]? Sites { get; init; }

    /// <summary>Number of hours for which the code may be exchanged, 1 to 168.</summary>
    public int? HoursValid { get; init; }
}

/// <summary>A one-time code that was handed out. The code itself is in the answer that makes it and nowhere else.</summary>
public sealed record HandedOutCode
{
    /// <summary>The enrolment.</summary>
    public required string Id { get; init; }

    /// <summary>What people call what is enrolled.</summary>
    public required string Name { get; init; }

    /// <summary>What it becomes.</summary>
    public required string Role { get; init; }

    /// <summary>The device that its key will speak for.</summary>
    public string? Source { get; init; }

    /// <summary>Ids of the sites that it is assigned.</summary>
    public IReadOnlyList<string>? Sites { get; init; }

    /// <summary>Where it stands: <c>open</c>, <c>used</c>, <c>expired</c> or <c>withdrawn</c>.</summary>
    public required string State { get; init; }

    /// <summary>When the code was issued.</summary>
    public DateTimeOffset CreatedAt { get; init; }

    /// <summary>Until when it may be exchanged.</summary>
    public DateTimeOffset ExpiresAt { get; init; }

    /// <summary>When it was exchanged.</summary>
    public DateTimeOffset? UsedAt { get; init; }

    /// <summary>When it was taken back.</summary>
    public DateTimeOffset? WithdrawnAt { get; init; }

    /// <summary>The code.</summary>
    public string? Code { get; init; }

    /// <summary>The service's address with the code behind '#'.</summary>
    public string? Address { get; init; }

    /// <summary>The address as a QR code (ISO/IEC 18004), an SVG picture.</summary>
    public string? QrSvg { get; init; }

    /// <summary>Says everything but the code, so that no log ever holds it.</summary>
    public override string ToString() => $"code {Id} for {Name}";
}

/// <summary>A fact that was refused and set aside.</summary>
public sealed record RefusedEvent
{
    /// <summary>Its id here.</summary>
    public required string Id { get; init; }

    /// <summary>Source that sent it.</summary>
    public required string Source { get; init; }

    /// <summary>Its id in the envelope, where it had one.</summary>
    public string? FactId { get; init; }

    /// <summary>Its running number, where it had one.</summary>
    public int? RunningNumber { get; init; }

    /// <summary>The event as it was sent.</summary>
    public required string Text { get; init; }

    /// <summary>Why it was refused.</summary>
    public required Problem Problem { get; init; }

    /// <summary>When it was first refused.</summary>
    public DateTimeOffset RefusedAt { get; init; }

    /// <summary>What became of it: <c>open</c>, <c>mended</c> or <c>dismissed</c>.</summary>
    public required string State { get; init; }

    /// <summary>When it was mended or dismissed.</summary>
    public DateTimeOffset? SettledAt { get; init; }

    /// <summary>What was noted.</summary>
    public string? Note { get; init; }
}

/// <summary>Something recorded that the states have to do without.</summary>
public sealed record PieceAside
{
    /// <summary>Its id here.</summary>
    public required string Id { get; init; }

    /// <summary>What stands aside: <c>fact</c>, <c>thing</c> or <c>unreadable</c>.</summary>
    public required string Kind { get; init; }

    /// <summary>The fact, as <c>source#id</c>.</summary>
    public string? Fact { get; init; }

    /// <summary>Type of the fact.</summary>
    public string? Type { get; init; }

    /// <summary>The thing whose state fails, as <c>kind:id</c>.</summary>
    public string? Thing { get; init; }

    /// <summary>The error.</summary>
    public required string Error { get; init; }

    /// <summary>When.</summary>
    public DateTimeOffset At { get; init; }
}

/// <summary>Who administered.</summary>
/// <param name="Kind">What kind of actor: <c>key</c>, <c>person</c>, <c>code</c> or <c>service</c>.</param>
/// <param name="Id">Public part of the key, issuer and subject of the token, or id of the enrolment.</param>
/// <param name="Name">What people call it.</param>
public sealed record ActingParty(string Kind, string Id, string Name);

/// <summary>Something that was administered.</summary>
public sealed record AuditEntry
{
    /// <summary>What was done, for instance <c>key-made</c>.</summary>
    public required string Act { get; init; }

    /// <summary>To what.</summary>
    public string? Target { get; init; }

    /// <summary>Who did it.</summary>
    public required ActingParty By { get; init; }

    /// <summary>When.</summary>
    public DateTimeOffset At { get; init; }

    /// <summary>Network address that it came from.</summary>
    public string? From { get; init; }

    /// <summary>What else says what was done, by name.</summary>
    public IReadOnlyDictionary<string, string>? Details { get; init; }
}
