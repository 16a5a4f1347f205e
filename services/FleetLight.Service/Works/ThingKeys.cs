using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.Service.Works;

/// <summary>Writes a thing as one text, <c>kind:id</c>, and reads it again.</summary>
public static class ThingKeys
{
    private static readonly string[] Names = [.. Enum.GetNames<ThingKind>().Select(name => name.ToLowerInvariant())];

    /// <summary>Name of a kind as it is written.</summary>
    public static string NameOf(ThingKind kind) => Names[(int)kind];

    /// <summary>The thing as one text.</summary>
    public static string Of(ThingKind kind, string id) => $"{NameOf(kind)}:{id}";

    /// <summary>The thing as one text.</summary>
    public static string Of(ThingRef thing) => Of(thing.Kind, thing.Id);

    /// <summary>The thing that the text names.</summary>
    public static ThingRef Read(string key)
    {
        var colon = key.IndexOf(':', StringComparison.Ordinal);
        return new ThingRef((ThingKind)Array.IndexOf(Names, key[..colon]), key[(colon + 1)..]);
    }
}
