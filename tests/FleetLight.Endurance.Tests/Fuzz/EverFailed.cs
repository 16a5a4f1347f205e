using System.Text.Json;

namespace FleetLight.Endurance.Tests.Fuzz;

/// <summary>A request that once was answered wrong.</summary>
/// <param name="Why">What was wrong.</param>
/// <param name="EndsSending">Whether sending ends with it.</param>
/// <param name="Request">The request, base 64; a mark in it stands for the key of the run.</param>
internal sealed record EverFailed(string Why, bool EndsSending, string Request)
{
    private const string KeyMark = "{key-of-the-run}";

    /// <summary>Every one that is kept: one line of JSON each.</summary>
    public static EverFailed[] All => File.Exists(Path_)
        ? [.. File.ReadAllLines(Path_).Where(line => line.Length > 0).Select(line => JsonSerializer.Deserialize<EverFailed>(line)!)]
        : [];

    private static string Path_ => Repository.At("tests/FleetLight.Endurance.Tests/Fuzz/ever-failed.jsonl");

    /// <summary>The line to keep for a request.</summary>
    public static string Line(string why, MadeRequest request, string key) => JsonSerializer.Serialize(
        new EverFailed(why, request.EndsSending, Convert.ToBase64String(System.Text.Encoding.Latin1.GetBytes(Text(request).Replace(key, KeyMark, StringComparison.Ordinal)))));

    /// <summary>The request with the key of this run. Its length may differ by that of the mark, but never that of its body.</summary>
    public MadeRequest With(string key) => new(
        System.Text.Encoding.Latin1.GetBytes(
            System.Text.Encoding.Latin1.GetString(Convert.FromBase64String(Request)).Replace(KeyMark, key, StringComparison.Ordinal)),
        EndsSending);

    private static string Text(MadeRequest request) => System.Text.Encoding.Latin1.GetString(request.Bytes);
}
