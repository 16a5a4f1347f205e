using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Net;
using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Sending;

/// <summary>A request before it is made, so that it can be made again.</summary>
/// <param name="Method">Its method.</param>
/// <param name="Path">Its path and query, relative to the service's address.</param>
internal sealed record Call(HttpMethod Method, string Path)
{
    /// <summary>Its body; none where there is none.</summary>
    public ReadOnlyMemory<byte>? Body { get; init; }

    /// <summary>The body's content type.</summary>
    public string MediaType { get; init; } = "application/json";

    /// <summary>Whether the device's clock goes with it.</summary>
    public bool ShowsClock { get; init; }

    /// <summary>Whether the key goes with it.</summary>
    public bool WithKey { get; init; } = true;

    /// <summary>Whether making it twice does no more than making it once.</summary>
    public bool Repeatable { get; init; } = true;

    /// <summary>Whether so many bytes pass that a try takes longer than usual.</summary>
    public bool MayTakeLong { get; init; }

    /// <summary>The state that is known already.</summary>
    public string? KnownTag { get; init; }

    /// <summary>A GET.</summary>
    public static Call Get(string path) => new(HttpMethod.Get, path);

    /// <summary>A call with a JSON body.</summary>
    public static Call With(HttpMethod method, string path, object body) =>
        new(method, path) { Body = JsonSerializer.SerializeToUtf8Bytes(body, body.GetType(), WireJson.Lenient) };

    /// <summary>The contract's word of a value; none where there is none.</summary>
    public static string? Word<T>(T? value) where T : struct, Enum =>
        value is { } there ? JsonSerializer.Serialize(there, WireJson.Lenient).Trim('"') : null;

    /// <summary>A whole number as parameters have it; none where there is none.</summary>
    [return: NotNullIfNotNull(nameof(number))]
    public static string? Number(long? number) => number?.ToString(CultureInfo.InvariantCulture);

    /// <summary>A time as parameters and headers have it (RFC 3339), with its offset and all its digits; none where there is none.</summary>
    [return: NotNullIfNotNull(nameof(time))]
    public static string? Time(DateTimeOffset? time) => time?.ToString("O", CultureInfo.InvariantCulture);

    /// <summary>A day as parameters have it (ISO 8601); none where there is none.</summary>
    [return: NotNullIfNotNull(nameof(day))]
    public static string? Day(DateOnly? day) => day?.ToString("O", CultureInfo.InvariantCulture);
}

/// <summary>An answer, read whole.</summary>
/// <param name="Status">Its status.</param>
/// <param name="Body">Its body.</param>
/// <param name="Tag">Its ETag.</param>
internal sealed record Reply(HttpStatusCode Status, byte[] Body, string? Tag);
