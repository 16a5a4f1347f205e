using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Files;

namespace FleetLight.Record.Handover;

/// <summary>
/// The list of the facts that something rests on, with a digest over it. Each fact's digest is worked out of what is kept, not of
/// the digest kept beside it, so a fact that was altered in the store shows.
/// </summary>
public static class FactRoll
{
    /// <summary>The list of these facts; their order does not matter, and the same facts always give the same.</summary>
    public static HandoverDigest Of(IReadOnlyCollection<RecordedFact> facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        HandoverFact[] lines =
        [
            .. facts.Select(fact => new HandoverFact(FactKey.Of(fact.Of), DigestOf(fact))).OrderBy(line => line.Fact, StringComparer.Ordinal),
        ];
        return new HandoverDigest
        {
            Sha256 = Hex(Text(lines)),
            KnownBy = facts.Count == 0 ? null : facts.Max(fact => fact.Of.RecordedAt),
            Facts = lines,
        };
    }

    /// <summary>The list as text: a line a fact, its digest, a blank, its name and a line feed.</summary>
    public static string Text(IEnumerable<HandoverFact> facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var text = new StringBuilder();
        foreach (var fact in facts) text.Append(fact.Sha256).Append(' ').Append(fact.Fact).Append('\n');
        return text.ToString();
    }

    /// <summary>
    /// SHA-256 over the fact in the canonical form of JSON (RFC 8785): an object with <c>data</c>, <c>of</c> (who says so, and when: all
    /// that is kept of it) and <c>type</c>; hexadecimal.
    /// </summary>
    public static string DigestOf(RecordedFact fact)
    {
        ArgumentNullException.ThrowIfNull(fact);
        var type = fact.Data.GetType();
        var kept = new Dictionary<string, JsonElement>
        {
            ["type"] = JsonSerializer.SerializeToElement(FactTypes.NameOf(type)),
            ["of"] = JsonSerializer.SerializeToElement(fact.Of, WireJson.Lenient),
            ["data"] = JsonSerializer.SerializeToElement(fact.Data, type, WireJson.Lenient),
        };
        return Convert.ToHexStringLower(SHA256.HashData(CanonicalJson.Of(JsonSerializer.SerializeToElement(kept))));
    }

    private static string Hex(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
}
