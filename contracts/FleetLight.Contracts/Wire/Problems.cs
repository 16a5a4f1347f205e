namespace FleetLight.Contracts.Wire;

/// <summary>A problem detail (RFC 9457) with the field at fault and what to do.</summary>
public sealed record Problem
{
    /// <summary>Stable identifier of the kind of problem, <c>urn:fleetlight:problem:…</c>.</summary>
    public required string Type { get; init; }

    /// <summary>Short text, the same for every problem of that kind.</summary>
    public required string Title { get; init; }

    /// <summary>HTTP status that fits the problem, a code without a unit.</summary>
    public int? Status { get; init; }

    /// <summary>What is wrong this time.</summary>
    public string? Detail { get; init; }

    /// <summary>The member at fault as a path, for instance <c>data.lengthMetres</c>, or the header or parameter.</summary>
    public string? Field { get; init; }

    /// <summary>What to do about it.</summary>
    public string? Remedy { get; init; }

    /// <summary>Trace identifier to quote when asking for help.</summary>
    public string? TraceId { get; init; }
}

/// <summary>The kinds of problem. A name never changes its meaning.</summary>
public static class ProblemTypes
{
    private const string Prefix = "urn:fleetlight:problem:";

    /// <summary>The body is not JSON, or was cut short.</summary>
    public const string BodyUnreadable = Prefix + "body-unreadable";

    /// <summary>The content type is none that this path takes.</summary>
    public const string ContentTypeUnknown = Prefix + "content-type-unknown";

    /// <summary>Too many events or bytes in one request.</summary>
    public const string BatchTooLarge = Prefix + "batch-too-large";

    /// <summary>More bytes in one request than the path takes.</summary>
    public const string RequestTooLarge = Prefix + "request-too-large";

    /// <summary>A batch without an event.</summary>
    public const string BatchEmpty = Prefix + "batch-empty";

    /// <summary>The envelope of an event is not as CloudEvents 1.0 asks, or lacks what FleetLight needs.</summary>
    public const string EnvelopeInvalid = Prefix + "envelope-invalid";

    /// <summary>No such type of fact is known.</summary>
    public const string TypeUnknown = Prefix + "type-unknown";

    /// <summary>The type of fact is known, this version of it is not.</summary>
    public const string VersionUnknown = Prefix + "version-unknown";

    /// <summary>The data is not as the type asks.</summary>
    public const string DataInvalid = Prefix + "data-invalid";

    /// <summary>A value lies outside its range.</summary>
    public const string OutOfRange = Prefix + "out-of-range";

    /// <summary>The source is not the one that the key was made for.</summary>
    public const string SourceNotYours = Prefix + "source-not-yours";

    /// <summary>The id is known with other content.</summary>
    public const string IdReused = Prefix + "id-reused";

    /// <summary>No key, or one that is not known.</summary>
    public const string KeyMissing = Prefix + "key-missing";

    /// <summary>The key does not allow this.</summary>
    public const string ScopeMissing = Prefix + "scope-missing";

    /// <summary>The one-time code is wrong, used or out of date.</summary>
    public const string CodeNotValid = Prefix + "code-not-valid";

    /// <summary>More requests than one caller may send in this time; try again later.</summary>
    public const string TooManyRequests = Prefix + "too-many-requests";

    /// <summary>There is no such thing in this organisation.</summary>
    public const string NotFound = Prefix + "not-found";

    /// <summary>The path does not take this method.</summary>
    public const string MethodNotAllowed = Prefix + "method-not-allowed";

    /// <summary>A query parameter or header is not understood.</summary>
    public const string ParameterInvalid = Prefix + "parameter-invalid";

    /// <summary>Too many calculations run or wait; try again later.</summary>
    public const string TooBusy = Prefix + "too-busy";

    /// <summary>The bytes are not those of the digest that names them.</summary>
    public const string DigestDiffers = Prefix + "digest-differs";

    /// <summary>The bytes are no picture of the media type stated.</summary>
    public const string PictureUnreadable = Prefix + "picture-unreadable";

    /// <summary>The organisation has no room left for more pictures.</summary>
    public const string QuotaExceeded = Prefix + "quota-exceeded";

    /// <summary>It is already so, or something else stands in the way.</summary>
    public const string Conflict = Prefix + "conflict";

    /// <summary>The service cannot answer now; try again later.</summary>
    public const string Unavailable = Prefix + "unavailable";

    /// <summary>Something went wrong inside the service.</summary>
    public const string Internal = Prefix + "internal";
}

/// <summary>Problem details in their own media type.</summary>
public static class ProblemMedia
{
    /// <summary><c>application/problem+json</c>.</summary>
    public const string Type = "application/problem+json";
}
