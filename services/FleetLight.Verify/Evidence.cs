using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Verify;

/// <summary>A file that cannot be used.</summary>
internal sealed class UnusableException(string message) : Exception(message);

/// <summary>A signed checkpoint from a file.</summary>
/// <param name="From">The file that it came from.</param>
/// <param name="Jws">The signed text.</param>
internal sealed record GivenCheckpoint(string From, string Jws);

/// <summary>What is handed in beside the export, read from files as the service answers them.</summary>
internal static class Evidence
{
    /// <summary>Reads a manifest.</summary>
    public static ExportManifest Manifest(string path)
    {
        try
        {
            return JsonSerializer.Deserialize<ExportManifest>(Text(path), WireJson.Lenient) is { Kind: "fleetlight-export-v1" } manifest
                ? manifest
                : throw new UnusableException($"{path} is no manifest of an export.");
        }
        catch (JsonException)
        {
            throw new UnusableException($"{path} is no manifest of an export.");
        }
    }

    /// <summary>Reads checkpoints: one, a page of them, or signed texts by themselves, one a line.</summary>
    public static IEnumerable<GivenCheckpoint> Checkpoints(string path)
    {
        var text = Text(path).Trim();
        if (!text.StartsWith('{')) return text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(line => new GivenCheckpoint(path, line));
        var root = Json(path, text);
        var found = root.TryGetProperty("items", out var items) && items.ValueKind == JsonValueKind.Array ? items.EnumerateArray().ToArray() : [root];
        // A manifest holds one too.
        return [.. found.Select(each => each.TryGetProperty("checkpoint", out var inner) ? inner : each).Select(each =>
            each.TryGetProperty("jws", out var jws) && jws.ValueKind == JsonValueKind.String
                ? new GivenCheckpoint(path, jws.GetString()!)
                : throw new UnusableException($"{path} holds something that is no checkpoint."))];
    }

    /// <summary>Reads a set of keys.</summary>
    public static IReadOnlyList<CheckpointKey> Keys(string path) => CheckpointKey.ReadSet(Json(path, Text(path))) is { Count: > 0 } keys
        ? keys
        : throw new UnusableException($"{path} holds no key of the kind that signs checkpoints (EC, P-256).");

    /// <summary>Reads leaf hashes, one a line.</summary>
    public static byte[][] Leaves(string path)
    {
        try
        {
            byte[][] leaves = [.. Text(path).Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(Convert.FromHexString)];
            return Array.TrueForAll(leaves, leaf => leaf.Length == MerkleHash.Length) ? leaves : throw new UnusableException($"{path} holds lines that are no leaf hash.");
        }
        catch (FormatException)
        {
            throw new UnusableException($"{path} holds lines that are no leaf hash.");
        }
    }

    private static JsonElement Json(string path, string text)
    {
        try
        {
            using var document = JsonDocument.Parse(text);
            return document.RootElement.ValueKind == JsonValueKind.Object ? document.RootElement.Clone() : throw new UnusableException($"{path} holds no JSON object.");
        }
        catch (JsonException)
        {
            throw new UnusableException($"{path} cannot be read as JSON.");
        }
    }

    private static string Text(string path)
    {
        try
        {
            return File.ReadAllText(path, Encoding.UTF8);
        }
        catch (Exception unread) when (unread is IOException or UnauthorizedAccessException)
        {
            throw new UnusableException($"{path} cannot be read: {unread.Message}");
        }
    }
}
