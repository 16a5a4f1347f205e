using System.Text.Json;
using FleetLight.Contracts.Proofs;

namespace FleetLight.Record.Ledger;

/// <summary>What is wrong with a line, or with a fact that has none.</summary>
public enum LineFault
{
    /// <summary>It is no line of an export at all.</summary>
    Unreadable,

    /// <summary>It is another organisation's.</summary>
    OfAnother,

    /// <summary>The fact of its place says something else than when it was recorded.</summary>
    Altered,

    /// <summary>No such fact was recorded there, or it stands here a second time.</summary>
    Added,

    /// <summary>It is a fact of the ledger and stands in another's place.</summary>
    OutOfPlace,

    /// <summary>A fact that has no line.</summary>
    Missing,
}

/// <summary>Something that is wrong.</summary>
/// <param name="Fault">What.</param>
/// <param name="Line">The line, from 1; of what is missing the one before which it should stand.</param>
/// <param name="First">The fact, or the first of several that miss, by its place in the ledger from 0; none where it cannot be told.</param>
/// <param name="Last">The last of several.</param>
public sealed record LineFinding(LineFault Fault, long Line, long? First, long? Last = null)
{
    /// <summary>In plain words.</summary>
    public string Says => Fault switch
    {
        LineFault.Unreadable => FormattableString.Invariant($"Line {Line} cannot be read as a line of an export."),
        LineFault.OfAnother => FormattableString.Invariant($"Line {Line} names another organisation than the first line."),
        LineFault.Altered => FormattableString.Invariant($"Line {Line} (fact {First}) was altered: it is not what was recorded."),
        LineFault.Added => First is { } same
            ? FormattableString.Invariant($"Line {Line} was added: it calls itself fact {same}, which it is not, or which stands elsewhere already.")
            : FormattableString.Invariant($"Line {Line} was added: no such fact was recorded."),
        LineFault.OutOfPlace => FormattableString.Invariant($"Line {Line} (fact {First}) stands in the wrong place: it belongs to line {First + 1}."),
        _ => First == Last
            ? FormattableString.Invariant($"Fact {First} is missing before line {Line}.")
            : FormattableString.Invariant($"Facts {First} to {Last} are missing before line {Line}."),
    };
}

/// <summary>
/// Looks an export over line by line: makes the tree of its lines as they are, and finds what was altered, added, taken out or moved.
/// With the leaf hashes of the ledger each line is told for itself; without them what was altered shows in the root alone.
/// </summary>
/// <param name="sizes">Sizes whose roots are wanted besides that of the whole.</param>
public sealed class ExportCheck(IEnumerable<long> sizes)
{
    private readonly MerkleFrontier edge = new();
    private readonly HashSet<long> wanted = [.. sizes];
    private readonly List<(long? Claimed, byte[] Hash)> lines = [];
    private readonly List<LineFinding> unreadable = [];

    /// <summary>The organisation that the first line names.</summary>
    public string? Organisation { get; private set; }

    /// <summary>How many lines there were.</summary>
    public long Size => edge.Size;

    /// <summary>Root of the tree over all lines.</summary>
    public byte[] Root => edge.Root;

    /// <summary>Roots of the trees over the first lines, for the sizes that were wanted and reached.</summary>
    public Dictionary<long, byte[]> Roots { get; } = [];

    /// <summary>Takes the next line in, without its line break.</summary>
    public void Add(ReadOnlySpan<byte> line)
    {
        var hash = MerkleHash.Leaf(line);
        edge.Add(hash);
        lines.Add((Claimed(line), hash));
        if (wanted.Contains(Size)) Roots[Size] = edge.Root;
    }

    /// <summary>What is wrong with the lines.</summary>
    /// <param name="size">How many facts there should be; none where nothing says so.</param>
    /// <param name="leafHashes">The leaf hashes of the ledger, where they are known.</param>
    public IReadOnlyList<LineFinding> Findings(long? size, IReadOnlyList<byte[]>? leafHashes)
    {
        var findings = new List<LineFinding>(unreadable);
        var should = leafHashes?.Count ?? size ?? lines.Count;
        var places = Places(leafHashes, findings);
        // Where everything is in its place, there is no more to say.
        var here = new bool[should];
        foreach (var place in places)
        {
            if (place is { } fact && fact < should) here[fact] = true;
        }

        Order(places, findings);
        Missing(places, here, findings);
        findings.Sort((one, other) => one.Line != other.Line ? one.Line.CompareTo(other.Line) : one.Fault.CompareTo(other.Fault));
        return findings;
    }

    // Which fact each line is; none for a line that is none of them.
    private long?[] Places(IReadOnlyList<byte[]>? leafHashes, List<LineFinding> findings)
    {
        var places = new long?[lines.Count];
        var taken = new HashSet<long>();
        var known = new Dictionary<string, long>(StringComparer.Ordinal);
        for (var fact = 0; fact < (leafHashes?.Count ?? 0); fact++) known[Convert.ToHexString(leafHashes![fact])] = fact;
        for (var line = 0; line < lines.Count; line++)
        {
            long? fact = leafHashes is null ? lines[line].Claimed : known.TryGetValue(Convert.ToHexString(lines[line].Hash), out var found) ? found : null;
            if (fact is { } one && taken.Add(one)) places[line] = one;
        }

        for (var line = 0; line < lines.Count; line++)
        {
            if (places[line] is not null) continue;
            var claimed = lines[line].Claimed;
            if (leafHashes is not null && claimed is { } fact && fact < leafHashes.Count && taken.Add(fact))
            {
                places[line] = fact;
                findings.Add(new LineFinding(LineFault.Altered, line + 1, fact));
            }
            else if (!unreadable.Exists(each => each.Line == line + 1))
            {
                findings.Add(new LineFinding(LineFault.Added, line + 1, claimed));
            }
        }

        return places;
    }

    // The fewest lines that have to be moved: those outside the longest row of facts that rises.
    private static void Order(long?[] places, List<LineFinding> findings)
    {
        var (ends, before) = (new List<int>(), new int[places.Length]);
        for (var line = 0; line < places.Length; line++)
        {
            if (places[line] is not { } fact) continue;
            var (low, high) = (0, ends.Count);
            while (low < high)
            {
                var middle = (low + high) / 2;
                if (places[ends[middle]] < fact) low = middle + 1;
                else high = middle;
            }

            before[line] = low > 0 ? ends[low - 1] : -1;
            if (low == ends.Count) ends.Add(line);
            else ends[low] = line;
        }

        var rising = new HashSet<int>();
        for (var line = ends.Count > 0 ? ends[^1] : -1; line >= 0; line = before[line]) rising.Add(line);
        for (var line = 0; line < places.Length; line++)
        {
            if (places[line] is { } fact && !rising.Contains(line)) findings.Add(new LineFinding(LineFault.OutOfPlace, line + 1, fact));
        }
    }

    private static void Missing(long?[] places, bool[] here, List<LineFinding> findings)
    {
        var lineOf = new Dictionary<long, long>();
        for (var line = 0; line < places.Length; line++)
        {
            if (places[line] is { } fact) lineOf[fact] = line + 1;
        }

        for (long fact = 0; fact < here.Length; fact++)
        {
            if (here[fact]) continue;
            var first = fact;
            while (fact + 1 < here.Length && !here[fact + 1]) fact++;
            findings.Add(new LineFinding(LineFault.Missing, lineOf.GetValueOrDefault(fact + 1, places.Length + 1), first, fact));
        }
    }

    private long? Claimed(ReadOnlySpan<byte> line)
    {
        try
        {
            var reader = new Utf8JsonReader(line);
            using var document = JsonDocument.ParseValue(ref reader);
            var root = document.RootElement;
            var organisation = root.GetProperty("organisation").GetString();
            Organisation ??= organisation;
            if (organisation != Organisation) unreadable.Add(new LineFinding(LineFault.OfAnother, Size, null));
            _ = root.GetProperty("event");
            return root.GetProperty("index").TryGetInt64(out var index) && index >= 0 ? index : null;
        }
        catch (Exception unread) when (unread is JsonException or KeyNotFoundException or InvalidOperationException)
        {
            unreadable.Add(new LineFinding(LineFault.Unreadable, Size, null));
            return null;
        }
    }
}
