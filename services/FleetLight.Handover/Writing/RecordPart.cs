using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Handover.Blocks;
using FleetLight.PageParts.History;
using FleetLight.Record.Handover;

namespace FleetLight.Handover.Writing;

/// <summary>All readings, who recorded what and when, and the digest over the facts.</summary>
internal static class RecordPart
{
    public static IEnumerable<Block> Write(HandoverPack pack, Said said)
    {
        yield return new Heading(1, "All readings", true);
        if (pack.Circuits.All(circuit => circuit.Readings.Count == 0)) yield return new Prose("No reading was taken.");
        else yield return new Prose("Each is judged by itself against the circuit as built. Readings from before a change or repair are told as such by their verdict.", true);
        foreach (var block in CircuitPart.Earlier(pack, said)) yield return block;
        yield return new Heading(1, "Who recorded what");
        yield return new Grid(
            "Recorders",
            [new("Who", 1.5), new("Facts", 0.7, true), new("What", 5), new("First", 1.2), new("Last", 1.2)],
            [
                .. pack.Recorders.Select(each => (IReadOnlyList<string>)
                [
                    said.Who(each.Source), each.Facts.ToString(CultureInfo.InvariantCulture),
                    string.Join(", ", each.FactsByType.OrderByDescending(type => type.Value).ThenBy(type => type.Key, StringComparer.Ordinal)
                        .Select(type => $"{FactSummary.TypeSaid(type.Key).ToLowerInvariant()} {type.Value.ToString(CultureInfo.InvariantCulture)}"))
                        + (each.DoubtfulTimes > 0 ? $"; the time of {each.DoubtfulTimes} is doubtful" : ""),
                    said.Time(each.FirstAt), said.Time(each.LastAt),
                ]),
            ],
            "Nothing is recorded.");
        yield return new Heading(1, "Proof of what it rests on");
        yield return new Prose(
            $"This pack rests on {pack.Digest.Facts.Count} recorded facts and on the settings that it names. The list of them, each with its own SHA-256, goes along "
            + "with this document as a file; "
            + "the SHA-256 of that file stands here and, shortened, at the foot of every page. Were a fact altered, added or taken away, it would be another."
            + (pack.Notes.Count > 0 ? " Notes of alerts are the office's; they are no facts, and the digest is not over them." : ""));
        yield return new Pairs(
        [
            ("SHA-256 of the list", pack.Digest.Sha256),
            ("Facts", pack.Digest.Facts.Count.ToString(CultureInfo.InvariantCulture)),
            .. pack.Digest.KnownBy is { } known ? ((string, string)[])[("Newest recorded", Moment(known))] : [],
            .. pack.AsOf is { } asOf ? ((string, string)[])[("As of", Moment(asOf))] : [],
            ("To check", "Ask the service for the same list (format=facts, with these times as knownBy and asOf) and compare it with the file line by line."),
        ]);
        yield return new Attached("facts.txt", $"{pack.Digest.Facts.Count} facts with their digests", FactRoll.Text(pack.Digest.Facts));
    }

    private static string Moment(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fffffff'Z'", CultureInfo.InvariantCulture);
}
