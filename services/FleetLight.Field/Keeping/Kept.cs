using System.Text.Json.Serialization;

namespace FleetLight.Field.Keeping;

/// <summary>Who this phone is, and where the service is. The key itself stays in the store.</summary>
/// <param name="Address">Address of the service.</param>
/// <param name="Source">The device: the source of its facts.</param>
/// <param name="Organisation">The organisation.</param>
public sealed record Identity(string Address, string Source, string? Organisation)
{
    /// <summary>Whether it is this one that recorded a fact.</summary>
    public bool Is(string source) => string.Equals(Source, source, StringComparison.Ordinal);
}

/// <summary>What became of a fact that was recorded here.</summary>
public enum KeptState
{
    /// <summary>It waits to be sent.</summary>
    Waiting,

    /// <summary>The service could not read it even alone; it is sent again later.</summary>
    Held,

    /// <summary>The service has it.</summary>
    Sent,

    /// <summary>The service set it aside; it waits for its mend.</summary>
    Refused,
}

/// <summary>What is wrong with a fact, in the service's words.</summary>
public sealed record KeptProblem(string? Title, string? Detail, string? Field, string? Remedy);

/// <summary>A fact that was recorded on this phone.</summary>
public sealed record KeptFact
{
    /// <summary>The device that recorded it.</summary>
    public required string Source { get; init; }

    /// <summary>Its running number, a count from 1.</summary>
    public required int Number { get; init; }

    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>Its type.</summary>
    public required string Type { get; init; }

    /// <summary>Its site.</summary>
    public required string SiteId { get; init; }

    /// <summary>When it happened, by this phone's clock.</summary>
    public required DateTimeOffset Time { get; init; }

    /// <summary>The event as it is sent.</summary>
    public required string Text { get; init; }

    /// <summary>What became of it.</summary>
    [JsonConverter(typeof(JsonStringEnumConverter<KeptState>))]
    public required KeptState State { get; init; }

    /// <summary>Why it was refused or is held.</summary>
    public KeptProblem? Problem { get; init; }

    /// <summary>Number of the refused fact that it mends.</summary>
    public int? Mends { get; init; }
}

/// <summary>How sending stands.</summary>
public sealed record OutboxSummary
{
    /// <summary>Number of facts that wait to be sent.</summary>
    public int Waiting { get; init; }

    /// <summary>Number of facts that were refused and are not mended yet.</summary>
    public int Refused { get; init; }

    /// <summary>Number of facts that wait for a key of the device that this phone was before.</summary>
    public int Elsewhere { get; init; }

    /// <summary>Number of photos that wait to be sent.</summary>
    public int Photos { get; init; }

    /// <summary>When facts were taken last, ms since 1970-01-01 UTC.</summary>
    public double? LastSentAt { get; init; }

    /// <summary>What is in the way.</summary>
    public string? Trouble { get; init; }

    /// <summary>Whether the service does not take this phone's key.</summary>
    public bool KeyNotTaken { get; init; }

    /// <summary>When facts were taken last.</summary>
    [JsonIgnore]
    public DateTimeOffset? SentAt => LastSentAt is { } at ? DateTimeOffset.FromUnixTimeMilliseconds((long)at) : null;
}

/// <summary>A fact to be recorded.</summary>
/// <param name="Id">Its id, minted here.</param>
/// <param name="Type">Its type.</param>
/// <param name="SiteId">Its site.</param>
/// <param name="Time">When it happened, RFC 3339 with its offset.</param>
/// <param name="Data">Its data, JSON text.</param>
/// <param name="Mends">Number of the refused fact that it mends.</param>
public sealed record NewFact(string Id, string Type, string SiteId, string Time, string Data, int? Mends = null);

/// <summary>A photo that was taken and made smaller, not recorded yet.</summary>
public sealed record TakenPhoto
{
    /// <summary>Digest of its bytes, hexadecimal.</summary>
    public string? Sha256 { get; init; }

    /// <summary>Its media type.</summary>
    public string? MediaType { get; init; }

    /// <summary>Its size, bytes.</summary>
    public int SizeBytes { get; init; }

    /// <summary>An address under which this window can show it.</summary>
    public string? Address { get; init; }

    /// <summary>Why there is none.</summary>
    public string? Problem { get; init; }
}

/// <summary>Where the phone is.</summary>
public sealed record FoundPosition
{
    /// <summary>Degrees east, WGS 84.</summary>
    public double Longitude { get; init; }

    /// <summary>Degrees north, WGS 84.</summary>
    public double Latitude { get; init; }

    /// <summary>Radius within which the phone is with 95 %, m, as the browser states it.</summary>
    public double AccuracyMetres { get; init; }

    /// <summary>Why there is none.</summary>
    public string? Problem { get; init; }
}

/// <summary>What looking a thing up at the service came to.</summary>
/// <param name="Answered">Whether the service answered.</param>
/// <param name="SiteId">The site of the thing; none where the service knows of none.</param>
public sealed record LookedUp(bool Answered, string? SiteId);

/// <summary>A site in the list.</summary>
public sealed record KnownSite(string Id, string? Name, string? Place);

/// <summary>The sites that the key may read, as they were fetched last.</summary>
public sealed record SiteList
{
    /// <summary>Ids of the sites that this phone is assigned.</summary>
    public IReadOnlyList<string> Assigned { get; init; } = [];

    /// <summary>All sites.</summary>
    public IReadOnlyList<KnownSite> Sites { get; init; } = [];
}

/// <summary>A site's facts that came after a place in the order in which they came.</summary>
public sealed record FactsAfter
{
    /// <summary>The facts, a JSON array.</summary>
    public string Json { get; init; } = "[]";

    /// <summary>Where that ends.</summary>
    public double Order { get; init; }

    /// <summary>Counts up when the list starts over.</summary>
    public double Edition { get; init; }

    /// <summary>When the site was fetched last, ms since 1970-01-01 UTC.</summary>
    public double? FetchedAt { get; init; }
}

/// <summary>What an enrolment came to.</summary>
public sealed record EnrolOutcome
{
    /// <summary>Whether this phone has its key.</summary>
    public bool Done { get; init; }

    /// <summary>What is in the way.</summary>
    public string? Detail { get; init; }

    /// <summary>What to do about it.</summary>
    public string? Remedy { get; init; }

    /// <summary>Whether the phone is the device that it was before, if it was one.</summary>
    public bool SameAsBefore { get; init; }
}
