using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Proofs;
using FleetLight.Record.Ledger;

namespace FleetLight.Record.Tests.Ledger;

public sealed class LedgerLineTests
{
    private const string Kept =
        """
        {"trace":"00-11-22-01","of":{"runningNumber":3,"id":"e3","source":"/devices/crew-1","deviceTime":"2026-03-06T09:35:00+00:00","happenedAt":"2026-03-06T09:35:00+00:00",
         "recordedAt":"2026-03-06T12:35:00.016+00:00","clockErrorSeconds":0.30,"digest":"7071"},
         "data":{"siteId":"s1","value":9.360,"meter":{"resolution":0.01,"digits":2}}}
        """;

    private const string Line =
        """{"event":{"data":{"meter":{"digits":2,"resolution":0.01},"siteId":"s1","value":9.36},"id":"e3","runningnumber":3,"source":"/devices/crew-1","""
        + "\"specversion\":\"1.0\",\"time\":\"2026-03-06T09:35:00+00:00\",\"type\":\"fleetlight.reading.taken.v1\"},\"index\":7,\"organisation\":\"amber\","
        + "\"recorded\":{\"clockErrorSeconds\":0.3,\"digest\":\"7071\",\"happenedAt\":\"2026-03-06T09:35:00+00:00\",\"recordedAt\":\"2026-03-06T12:35:00.016+00:00\"}}";

    [Fact]
    public void A_line_is_the_fact_as_an_event_and_what_was_noted_beside_it()
    {
        byte[] line = Of(Kept);
        Assert.Equal(Line, Encoding.UTF8.GetString(line));
        // By any other program: SHA-256 of a zero byte and the line.
        Assert.Equal(SHA256.HashData([0, .. line]), MerkleHash.Leaf(line));
    }

    [Fact]
    public void A_line_is_canonical_as_a_whole()
    {
        using JsonDocument document = JsonDocument.Parse(Line);
        Assert.Equal(Line, Encoding.UTF8.GetString(CanonicalJson.Of(document.RootElement)));
    }

    [Fact]
    public void The_trace_is_no_part_of_it_and_whatever_a_later_build_keeps_besides_is()
    {
        Assert.Equal(Of(Kept), Of(Kept.Replace("00-11-22-01", "00-33-44-01", StringComparison.Ordinal)));
        string later = Encoding.UTF8.GetString(Of(Kept.Replace("\"of\":{", "\"of\":{\"a\":true,", StringComparison.Ordinal)));
        Assert.Contains("\"recorded\":{\"a\":true,", later, StringComparison.Ordinal);
    }

    [Fact]
    public void A_digest_of_facts_depends_on_the_set_alone()
    {
        byte[] one = MerkleHash.Leaf([1]), two = MerkleHash.Leaf([2]), three = MerkleHash.Leaf([3]);
        byte[][] sorted = [.. new[] { one, two, three }.OrderBy(Convert.ToHexString, StringComparer.Ordinal)];
        Assert.Equal(SHA256.HashData([.. sorted[0], .. sorted[1], .. sorted[2]]), FactDigest.Of([one, two, three]));
        Assert.Equal(FactDigest.Of([one, two, three]), FactDigest.Of([three, one, two, one]));
        Assert.NotEqual(FactDigest.Of([one, two]), FactDigest.Of([one, two, three]));
        Assert.Equal(SHA256.HashData([]), FactDigest.Of([]));
        Assert.Throws<ArgumentException>(() => FactDigest.Of([[1, 2]]));
    }

    private static byte[] Of(string kept)
    {
        using JsonDocument document = JsonDocument.Parse(kept);
        return LedgerLine.Of(7, "amber", "fleetlight.reading.taken.v1", document.RootElement);
    }
}
