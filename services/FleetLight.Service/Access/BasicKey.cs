using System.Text;
using Microsoft.Extensions.Primitives;

namespace FleetLight.Service.Access;

/// <summary>
/// Marks endpoints that take the key as the password of HTTP Basic (RFC 7617) too, for programs and browsers that know no Bearer.
/// Only reads are marked: a browser sends such a password by itself, so it must never change anything.
/// </summary>
public sealed record TakesBasicKey;

/// <summary>Reads keys out of passwords.</summary>
public static class BasicKey
{
    /// <summary>What such endpoints ask for. Two lines: browsers look at the first challenge of a line only.</summary>
    public static StringValues Challenge { get; } = new(["Bearer", "Basic realm=\"FleetLight open data\", charset=\"UTF-8\""]);

    private const string Scheme = "Basic ";

    /// <summary>The endpoint takes the key as a password too.</summary>
    public static TBuilder TakesBasic<TBuilder>(this TBuilder builder) where TBuilder : IEndpointConventionBuilder
    {
        builder.Add(endpoint => endpoint.Metadata.Add(new TakesBasicKey()));
        return builder;
    }

    /// <summary>The password, whatever the name; none where the header holds none.</summary>
    public static string? PasswordOf(string header)
    {
        if (!header.StartsWith(Scheme, StringComparison.OrdinalIgnoreCase)) return null;
        var bytes = new byte[header.Length];
        if (!Convert.TryFromBase64String(header[Scheme.Length..].Trim(), bytes, out var length)) return null;
        var pair = Encoding.UTF8.GetString(bytes, 0, length);
        var colon = pair.IndexOf(':', StringComparison.Ordinal);
        return colon >= 0 && pair.Length > colon + 1 ? pair[(colon + 1)..].Trim() : null;
    }
}
