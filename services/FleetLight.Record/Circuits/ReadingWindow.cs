using System.Collections.Immutable;

namespace FleetLight.Record.Circuits;

/// <summary>
/// The newest readings of a circuit that count. It depends on nothing but the set of readings that count: not on how
/// and in which order they arrived.
/// </summary>
/// <param name="Entries">At most <see cref="Size"/> readings, oldest first, in the order of the facts.</param>
/// <param name="Cut">
/// Whether older readings that count were left out. Where it is true and one is taken away, the window is filled again
/// by <see cref="Of"/> from all that is kept.
/// </param>
public sealed record ReadingWindow(ImmutableArray<ReadingEntry> Entries, bool Cut)
{
    /// <summary>Most readings in a window.</summary>
    public const int Size = 16;

    /// <summary>A window without a reading.</summary>
    public static ReadingWindow Empty { get; } = new([], false);

    /// <summary>
    /// The window of these readings. To fill a window again it is enough to hand in the newest <see cref="Size"/> + 1
    /// of the circuit that count, in any order.
    /// </summary>
    public static ReadingWindow Of(IEnumerable<ReadingEntry> counting)
    {
        var sorted = counting.DistinctBy(entry => entry.Fact).Order(ReadingEntry.InOrder).ToList();
        var from = Math.Max(0, sorted.Count - Size);
        return new([.. sorted.Skip(from)], from > 0);
    }

    /// <summary>
    /// The window with the reading in its place; the same window where it holds it already, or where it is full of
    /// newer ones and older ones were left out before.
    /// </summary>
    public ReadingWindow With(ReadingEntry entry)
    {
        var at = Entries.BinarySearch(entry, ReadingEntry.InOrder);
        if (at >= 0) return Entries[at] == entry ? this : this with { Entries = Entries.SetItem(at, entry) };
        at = ~at;
        if (Entries.Length < Size) return this with { Entries = Entries.Insert(at, entry) };
        if (at == 0) return Cut ? this : this with { Cut = true };
        return new(Entries.RemoveAt(0).Insert(at - 1, entry), true);
    }

    /// <summary>
    /// The window without a reading that was withdrawn; the same window where it does not hold it. Where
    /// <see cref="NeedsRefill"/> then says so, older readings take its place by <see cref="Refill"/>.
    /// </summary>
    /// <param name="fact">The fact, <c>source#id</c>.</param>
    public ReadingWindow Without(string fact)
    {
        for (var i = 0; i < Entries.Length; i++)
            if (Entries[i].Fact == fact) return this with { Entries = Entries.RemoveAt(i) };
        return this;
    }

    /// <summary>Whether a place is free that an older reading may take.</summary>
    public bool NeedsRefill => Cut && Entries.Length < Size;

    /// <summary>
    /// The window filled again. Readings that it holds already stand; what is handed in must be the newest
    /// <see cref="Size"/> + 1 readings of the circuit that are kept and count (fewer where there are fewer).
    /// </summary>
    public ReadingWindow Refill(IEnumerable<ReadingEntry> newestCounting) => Of(Entries.Concat(newestCounting));
}
