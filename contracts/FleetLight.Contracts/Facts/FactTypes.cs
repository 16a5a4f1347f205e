using System.Collections.Frozen;
using System.Reflection;

namespace FleetLight.Contracts.Facts;

/// <summary>Every type of fact, by the name under which it travels.</summary>
public static class FactTypes
{
    private static readonly FrozenDictionary<string, Type> ByName = typeof(IFact).Assembly.GetTypes()
        .Where(type => typeof(IFact).IsAssignableFrom(type) && type.IsClass)
        .ToFrozenDictionary(type => type.GetCustomAttribute<FactTypeAttribute>()!.Name, StringComparer.Ordinal);

    private static readonly FrozenDictionary<Type, string> ByType =
        ByName.ToFrozenDictionary(pair => pair.Value, pair => pair.Key);

    /// <summary>All types of fact with their names, in the order of the names.</summary>
    public static IReadOnlyList<KeyValuePair<string, Type>> All { get; } =
        [.. ByName.OrderBy(pair => pair.Key, StringComparer.Ordinal)];

    /// <summary>The record of the type with that name, or none where no such type and version is known.</summary>
    public static Type? Find(string name) => ByName.GetValueOrDefault(name);

    /// <summary>The name under which facts of that record travel.</summary>
    /// <exception cref="KeyNotFoundException">The type is not a fact.</exception>
    public static string NameOf(Type type) => ByType[type];
}
