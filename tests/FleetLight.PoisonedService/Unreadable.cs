using System.Text.Json;
using System.Text.Json.Serialization;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using Marten;

namespace FleetLight.PoisonedService;

/// <summary>Reads the store as a build does that has forgotten one thing: a duct plugged with <c>unreadable</c> is no fact to it.</summary>
internal sealed class Unreadable : JsonConverter<DuctPlugged>
{
    /// <summary>Adds it to a store.</summary>
    public static void Add(StoreOptions options) => options.UseSystemTextJsonForSerialization(configure: json =>
    {
        WireJson.Configure(json);
        json.Converters.Add(new Unreadable());
    });

    public override DuctPlugged? Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        var plugged = JsonSerializer.Deserialize<DuctPlugged>(ref reader, WireJson.Lenient);
        return plugged?.With == "unreadable" ? throw new JsonException("No word for that.") : plugged;
    }

    public override void Write(Utf8JsonWriter writer, DuctPlugged value, JsonSerializerOptions options) =>
        JsonSerializer.Serialize(writer, value, WireJson.Lenient);
}
