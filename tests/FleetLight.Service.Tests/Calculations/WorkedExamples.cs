using System.Text.Json.Nodes;
using FleetLight.Service.Tests.Hosting;

namespace FleetLight.Service.Tests.Calculations;

/// <summary>The worked examples of the contract.</summary>
internal static class WorkedExamples
{
    private const string Folder = "contracts/examples/calculations";
    private const string RequestEnding = ".request.json";

    /// <summary>Their names: calculation, dot, example.</summary>
    public static string[] Names { get; } =
    [
        .. Directory.EnumerateFiles(Repository.At(Folder), "*" + RequestEnding)
            .Select(file => Path.GetFileName(file)[..^RequestEnding.Length]).Order(StringComparer.Ordinal),
    ];

    /// <summary>Path of the calculation.</summary>
    public static string PathOf(string name) => "/v1/calculations/" + name.Split('.')[0];

    /// <summary>What is asked.</summary>
    public static JsonObject Request(string name) => Read(name, RequestEnding);

    /// <summary>What is answered.</summary>
    public static JsonObject Answer(string name) => Read(name, ".answer.json");

    private static JsonObject Read(string name, string ending) =>
        JsonNode.Parse(File.ReadAllText(Repository.At($"{Folder}/{name}{ending}")))!.AsObject();
}
