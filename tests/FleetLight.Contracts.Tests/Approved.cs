using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace FleetLight.Contracts.Tests;

/// <summary>
/// Holds what the code makes against the approved file in the repository, so that a change of the contract shows in
/// review. With FLEETLIGHT_APPROVE=1 the files are written instead.
/// </summary>
internal static class Approved
{
    private static readonly JsonSerializerOptions Writing = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>Whether the approved files are written instead of compared.</summary>
    public static bool Writes { get; } = Environment.GetEnvironmentVariable("FLEETLIGHT_APPROVE") == "1";

    /// <summary>JSON as it stands in the approved files.</summary>
    public static string Text(JsonNode node) => node.ToJsonString(Writing) + "\n";

    /// <summary>The text made by the code must be that of the file.</summary>
    public static void Check(string path, string made)
    {
        var file = Repository.At(path);
        if (Writes)
        {
            Directory.CreateDirectory(Path.GetDirectoryName(file)!);
            File.WriteAllText(file, made);
            return;
        }

        Assert.True(File.Exists(file), $"{path} is missing. {Remedy}");
        var (was, now) = (File.ReadAllText(file).Split('\n'), made.Split('\n'));
        for (var line = 0; line < Math.Max(was.Length, now.Length); line++)
        {
            var (old, fresh) = (was.ElementAtOrDefault(line), now.ElementAtOrDefault(line));
            Assert.True(old == fresh, $"{path}, line {line + 1}\n  approved: {old}\n  made now: {fresh}\n{Remedy}");
        }
    }

    /// <summary>What to do where they differ.</summary>
    public const string Remedy = "If the change is meant: run these tests with FLEETLIGHT_APPROVE=1 and commit what they write.";
}
