using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace FleetLight.Contracts.Wire;

/// <summary>How FleetLight writes and reads JSON: camel-case names, kebab-case words, absent for none, nothing unknown.</summary>
public static class WireJson
{
    /// <summary>For what comes from outside: unknown and repeated members, missing members and nulls are refused.</summary>
    public static JsonSerializerOptions Strict { get; } = Make(strict: true);

    /// <summary>For what FleetLight itself wrote: newer members are passed over.</summary>
    public static JsonSerializerOptions Lenient { get; } = Make(strict: false);

    private static JsonSerializerOptions Make(bool strict)
    {
        var options = new JsonSerializerOptions(JsonSerializerDefaults.Web);
        Configure(options);
        options.NumberHandling = JsonNumberHandling.Strict;
        options.RespectNullableAnnotations = strict;
        options.RespectRequiredConstructorParameters = strict;
        options.PropertyNameCaseInsensitive = false;
        options.AllowDuplicateProperties = !strict;
        options.UnmappedMemberHandling = strict ? JsonUnmappedMemberHandling.Disallow : JsonUnmappedMemberHandling.Skip;
        options.MakeReadOnly(populateMissingResolver: true);
        return options;
    }

    /// <summary>Sets what every reader and writer of FleetLight's JSON shares.</summary>
    public static void Configure(JsonSerializerOptions options)
    {
        options.PropertyNamingPolicy = JsonNamingPolicy.CamelCase;
        options.DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull;
        options.AllowOutOfOrderMetadataProperties = true;
        options.MaxDepth = 32;
        // Units and names are plain text in the answers, never markup: keep "≥" and "Ω" readable on the wire.
        options.Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping;
        options.Converters.Add(new WordConverter());
    }
}
