using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.Field.Sites;

/// <summary>Addresses of things within the page: kind and id, <c>duct/d1</c>. Pure.</summary>
public static class ThingAddress
{
    /// <summary>The address of a thing's own page.</summary>
    public static string PageOf(ThingRef thing)
    {
        ArgumentNullException.ThrowIfNull(thing);
        return $"t/{Of(thing)}";
    }

    /// <summary>Kind and id.</summary>
    public static string Of(ThingRef thing)
    {
        ArgumentNullException.ThrowIfNull(thing);
        return $"{thing.Kind.ToString().ToLowerInvariant()}/{Uri.EscapeDataString(thing.Id)}";
    }

    /// <summary>Reads kind and id; none where the text is no such address.</summary>
    public static ThingRef? Read(string? text)
    {
        if (text is null || text.Split('/', 2) is not [var kind, var id] || id.Length == 0) return null;
        return Enum.TryParse<ThingKind>(kind, ignoreCase: true, out var known) && Enum.IsDefined(known) && !char.IsAsciiDigit(kind[0])
            ? new ThingRef(known, Uri.UnescapeDataString(id))
            : null;
    }
}
