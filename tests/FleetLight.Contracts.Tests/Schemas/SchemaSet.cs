using System.Text.Json;
using Json.Schema;

namespace FleetLight.Contracts.Tests.Schemas;

/// <summary>The committed schemas, as somebody else would use them.</summary>
internal static class SchemaSet
{
    private static readonly EvaluationOptions Evaluating = new() { OutputFormat = OutputFormat.List, RequireFormatValidation = true };

    private static readonly Dictionary<string, JsonSchema> ByName = Load();

    /// <summary>What the schema with that name finds wrong with the JSON; nothing where it is valid.</summary>
    public static IReadOnlyList<string> Faults(string name, JsonElement json)
    {
        var results = ByName[name].Evaluate(json, Evaluating);
        if (results.IsValid) return [];
        var faults = (results.Details ?? []).Append(results)
            .Where(detail => detail.Errors is not null)
            .SelectMany(detail => detail.Errors!, (detail, error) => $"{detail.InstanceLocation}: {error.Value}")
            .ToList();
        return faults.Count > 0 ? faults : ["not valid"];
    }

    private static Dictionary<string, JsonSchema> Load()
    {
        const string ending = ".schema.json";
        var building = new BuildOptions { SchemaRegistry = new SchemaRegistry() };
        // The envelope refers to the facts, so it comes last.
        return Directory.EnumerateFiles(Repository.At("contracts/schemas"), "*" + ending)
            .OrderByDescending(file => Path.GetFileName(file), StringComparer.Ordinal)
            .ToDictionary(
                file => Path.GetFileName(file)[..^ending.Length],
                file => JsonSchema.FromText(File.ReadAllText(file), building),
                StringComparer.Ordinal);
    }
}
