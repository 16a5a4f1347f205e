using System.Runtime.CompilerServices;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Wire;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Approvals;

/// <summary>
/// Compares what the service says with what was approved: one JSON file a group, one member a case, so that a change of any
/// word shows in review. With FLEETLIGHT_APPROVE=1 a run writes what it found into the files instead.
/// </summary>
internal static class Approved
{
    private static readonly JsonSerializerOptions Readable = new()
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    private static readonly Lock Writing = new();

    /// <summary>Asserts that the problem of the case is the approved one; the trace differs from request to request.</summary>
    public static void Same(string group, string name, Problem found, [CallerFilePath] string caller = "") =>
        Same(group, name, JsonSerializer.SerializeToNode(found with { TraceId = null }, WireJson.Lenient)!, caller);

    /// <summary>Asserts that the answer is a problem, with the approved status and text.</summary>
    public static void Same(string group, string name, Answer found, [CallerFilePath] string caller = "")
    {
        Assert.Equal(ProblemMedia.Type, found.MediaType);
        JsonObject problem = found.Json.AsObject();
        Assert.True(problem.Remove("traceId"), "A problem names its trace.");
        Same(group, name, new JsonObject { ["httpStatus"] = (int)found.Status, ["problem"] = problem }, caller);
    }

    /// <summary>Asserts that the case says what was approved.</summary>
    public static void Same(string group, string name, JsonNode found, [CallerFilePath] string caller = "")
    {
        string file = Path.Combine(Path.GetDirectoryName(caller)!, $"{group}.approved.json");
        if (Environment.GetEnvironmentVariable("FLEETLIGHT_APPROVE") == "1") Write(file, name, found);
        JsonObject all = Read(file);
        Assert.True(all.ContainsKey(name), $"Nothing is approved for '{name}' in {file}. Found: {found.ToJsonString(Readable)}");
        Assert.Equal(all[name]!.ToJsonString(Readable), found.ToJsonString(Readable));
    }

    private static JsonObject Read(string file) =>
        File.Exists(file) ? JsonNode.Parse(File.ReadAllText(file))!.AsObject() : [];

    private static void Write(string file, string name, JsonNode found)
    {
        lock (Writing)
        {
            JsonObject all = Read(file);
            all[name] = found.DeepClone();
            JsonObject sorted = new(all.OrderBy(pair => pair.Key, StringComparer.Ordinal)
                .Select(pair => KeyValuePair.Create(pair.Key, pair.Value?.DeepClone())));
            File.WriteAllText(file, sorted.ToJsonString(Readable) + "\n");
        }
    }
}
