using System.Text;
using FleetLight.Contracts.Proofs;
using FleetLight.Record.Ledger;

namespace FleetLight.Record.Tests.Ledger;

public sealed class ExportCheckTests
{
    private const int Size = 40;
    private static readonly string[] Lines = [.. Enumerable.Range(0, Size).Select(index => Line(index, $"value {index}"))];
    private static readonly byte[][] Hashes = [.. Lines.Select(line => MerkleHash.Leaf(Encoding.UTF8.GetBytes(line)))];

    [Fact]
    public void A_sound_export_has_the_root_and_nothing_is_found()
    {
        ExportCheck check = Of(Lines, 8, 13);
        Assert.Equal((Size, "amber"), (check.Size, check.Organisation));
        Assert.Equal(Trees.Root(Hashes), check.Root);
        Assert.Equal(Trees.Root(Hashes.AsSpan(0, 8)), check.Roots[8]);
        Assert.Equal(Trees.Root(Hashes.AsSpan(0, 13)), check.Roots[13]);
        Assert.Empty(check.Findings(Size, Hashes));
        Assert.Empty(check.Findings(Size, null));
        Assert.Empty(check.Findings(null, null));
    }

    [Fact]
    public void An_altered_line_is_named()
    {
        for (int at = 0; at < Size; at++)
        {
            string[] changed = [.. Lines];
            changed[at] = Line(at, "something else");
            Assert.NotEqual(Trees.Root(Hashes), Of(changed).Root);
            LineFinding found = Assert.Single(Of(changed).Findings(Size, Hashes));
            Assert.Equal(new LineFinding(LineFault.Altered, at + 1, at), found);
            // Without the hashes only the root shows it.
            Assert.Empty(Of(changed).Findings(Size, null));
        }
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_line_that_is_missing_added_or_moved_is_named(bool withHashes)
    {
        byte[][]? hashes = withHashes ? Hashes : null;
        Assert.Equal([new LineFinding(LineFault.Missing, 6, 5, 5)], Of([.. Lines[..5], .. Lines[6..]]).Findings(Size, hashes));
        Assert.Equal([new LineFinding(LineFault.Missing, 1, 0, 2)], Of(Lines[3..]).Findings(Size, hashes));
        Assert.Equal([new LineFinding(LineFault.Missing, 31, 30, 39)], Of(Lines[..30]).Findings(Size, hashes));
        Assert.Equal([new LineFinding(LineFault.Added, 8, 3)], Of([.. Lines[..7], Lines[3], .. Lines[7..]]).Findings(Size, hashes));
        string[] swapped = [.. Lines];
        (swapped[10], swapped[20]) = (swapped[20], swapped[10]);
        Assert.Equal([new LineFinding(LineFault.OutOfPlace, 11, 20), new LineFinding(LineFault.OutOfPlace, 21, 10)], Of(swapped).Findings(Size, hashes));
        Assert.Equal([new LineFinding(LineFault.OutOfPlace, 1, 39)], Of([Lines[39], .. Lines[..39]]).Findings(Size, hashes));
        Assert.Equal(
            [new LineFinding(LineFault.Unreadable, 4, null), new LineFinding(LineFault.Missing, 5, 3, 3)],
            Of([.. Lines[..3], "{", .. Lines[4..]]).Findings(Size, hashes));
        Assert.Equal(
            [new LineFinding(LineFault.OfAnother, 4, null)],
            Of([.. Lines[..3], Lines[3].Replace("amber", "birch", StringComparison.Ordinal), .. Lines[4..]]).Findings(Size, null));
    }

    [Fact]
    public void A_line_that_was_made_up_is_named_though_it_has_a_number()
    {
        LineFinding found = Assert.Single(Of([.. Lines[..7], Line(6, "made up"), .. Lines[7..]]).Findings(Size, Hashes));
        Assert.Equal(new LineFinding(LineFault.Added, 8, 6), found);
        Assert.All(Enum.GetValues<LineFault>(), fault => Assert.EndsWith(".", new LineFinding(fault, 1, 2, 3).Says, StringComparison.Ordinal));
    }

    private static ExportCheck Of(string[] lines, params long[] sizes)
    {
        ExportCheck check = new(sizes);
        foreach (string line in lines) check.Add(Encoding.UTF8.GetBytes(line));
        return check;
    }

    private static string Line(int index, string says) =>
        $$$"""{"event":{"data":{"note":"{{{says}}}"},"id":"{{{index}}}"},"index":{{{index}}},"organisation":"amber","recorded":{}}""";
}
