using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Contracts.Tests.Examples;

/// <summary>The committed examples: one event of each type, which together tell one small job.</summary>
internal static class Example
{
    /// <summary>Where they are.</summary>
    public const string Folder = "contracts/examples";

    /// <summary>The event of a type.</summary>
    public static JsonElement Event(string type) => JsonElement.Parse(Text(type));

    /// <summary>The event of a type as it is sent.</summary>
    public static string Text(string type) => File.ReadAllText(Repository.At($"{Folder}/{type}.json"));

    /// <summary>The fact in the event of a type.</summary>
    public static IFact Fact(string type) =>
        (IFact)Event(type).GetProperty("data").Deserialize(FactTypes.Find(type)!, WireJson.Strict)!;

    /// <summary>All events in the order of their running numbers.</summary>
    public static IReadOnlyList<JsonElement> All { get; } =
        [.. FactTypes.All.Select(pair => Event(pair.Key)).OrderBy(one => one.GetProperty(Envelope.RunningNumber).GetInt32())];
}
