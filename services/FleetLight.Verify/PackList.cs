using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Files;
using FleetLight.Record.Handover;

namespace FleetLight.Verify;

/// <summary>The list of facts of a handover pack, and what of it an export bears out.</summary>
internal sealed partial class PackList
{
    // A foot of a page has 16 digits of the digest.
    private const int FewestDigits = 16;

    private readonly string from;
    private readonly string sha256;
    private readonly List<HandoverFact> facts;
    private readonly string? stated;
    private readonly Dictionary<string, (long Line, string? Sha256)> exported = new(StringComparer.Ordinal);
    private readonly HashSet<string> wanted;
    private long line;

    private PackList(string from, string text, string? stated)
    {
        (this.from, this.stated) = (from, stated);
        sha256 = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
        facts = [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(Entry)];
        wanted = [.. facts.Select(fact => fact.Fact)];
    }

    /// <summary>Reads the list: as text, or out of a pack as JSON or HTML.</summary>
    public static PackList Read(string path)
    {
        byte[] bytes;
        try
        {
            bytes = File.ReadAllBytes(path);
        }
        catch (Exception unread) when (unread is IOException or UnauthorizedAccessException)
        {
            throw new UnusableException($"{path} cannot be read: {unread.Message}");
        }

        if (bytes.AsSpan().StartsWith("%PDF"u8))
            throw new UnusableException($"{path} is the PDF itself. Save the file facts.txt that is attached to it (pdfdetach -saveall {path}), and give that.");
        var text = Encoding.UTF8.GetString(bytes);
        if (text.StartsWith('{')) return OfJson(path, text);
        if (!text.StartsWith("<!DOCTYPE html>", StringComparison.OrdinalIgnoreCase)) return new PackList(path, text, null);
        return InHtml().Match(text) is { Success: true } found
            ? new PackList(path, WebUtility.HtmlDecode(found.Groups[1].Value), DigestInHtml().Match(text) is { Success: true } digest ? digest.Groups[1].Value : null)
            : throw new UnusableException($"{path} holds no list of facts.");
    }

    /// <summary>Takes the next line of the export in.</summary>
    public void Add(ReadOnlySpan<byte> bytes)
    {
        line++;
        if (ExportedFact.Read(bytes) is { } fact && FactKey.Of(fact.Of) is var name && wanted.Contains(name)) exported[name] = (line, FactRoll.DigestOf(fact));
    }

    /// <summary>What was found.</summary>
    /// <param name="printed">The digest as it is printed in the pack, or its first digits; none where nobody read it off.</param>
    public IEnumerable<Finding> Findings(string? printed)
    {
        if (stated is not null && stated != sha256) yield return new Finding(false, $"The list of facts in {from} has the SHA-256 {sha256}; the pack says {stated}.");
        if (printed is not null)
        {
            yield return sha256.StartsWith(printed, StringComparison.OrdinalIgnoreCase)
                ? new Finding(true, $"The list of facts in {from} has the digest that is printed in the pack.")
                : new Finding(false, $"The list of facts in {from} has the SHA-256 {sha256}; the pack has {printed} printed.");
        }
        else
        {
            yield return new Finding(null, $"The list of facts in {from} has the SHA-256 {sha256}. Compare it with the digest in the pack, or give that with --pack-digest.");
        }

        var wrong = facts.Select(fact => Differs(fact)).OfType<string>().ToArray();
        foreach (var says in wrong.Take(Verification.MostLines)) yield return new Finding(false, says);
        if (wrong.Length > Verification.MostLines)
            yield return new Finding(false, FormattableString.Invariant($"And {wrong.Length - Verification.MostLines} more facts of the pack."));
        if (wrong.Length == 0) yield return new Finding(true, FormattableString.Invariant($"All {facts.Count} facts on which the pack rests are in the export, unaltered."));
    }

    /// <summary>The digest as somebody typed it, checked for its form.</summary>
    public static string Printed(string typed) => typed.Length is >= FewestDigits and <= 64 && typed.All(char.IsAsciiHexDigit)
        ? typed
        : throw new UnusableException($"'{typed}' is no digest: give the 64 hexadecimal digits of the pack's last part, or the {FewestDigits} at the foot of its pages.");

    private string? Differs(HandoverFact fact) => !exported.TryGetValue(fact.Fact, out var found) ? $"The pack rests on the fact {fact.Fact}, which is not in the export."
        : found.Sha256 == fact.Sha256 ? null
        : FormattableString.Invariant($"The fact {fact.Fact} (line {found.Line}) is not what the pack rests on: it was altered, here or in the list of the pack.");

    private HandoverFact Entry(string entry) => entry.IndexOf(' ', StringComparison.Ordinal) is 64 && entry[..64].All(char.IsAsciiHexDigit)
        ? new HandoverFact(entry[65..], entry[..64])
        : throw new UnusableException($"{from} is no list of facts of a handover pack.");

    private static PackList OfJson(string path, string text)
    {
        try
        {
            var pack = JsonSerializer.Deserialize<HandoverPack>(text, WireJson.Lenient)!;
            return new PackList(path, FactRoll.Text(pack.Digest.Facts), pack.Digest.Sha256);
        }
        catch (JsonException)
        {
            throw new UnusableException($"{path} is no handover pack.");
        }
    }

    [GeneratedRegex("<pre [^>]*aria-label=\"facts\\.txt\">([^<]*)</pre>")]
    private static partial Regex InHtml();

    [GeneratedRegex("<dt>SHA-256 of the list</dt><dd>([0-9a-f]{64})</dd>")]
    private static partial Regex DigestInHtml();
}
