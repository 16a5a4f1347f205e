using System.Collections.Immutable;

namespace FleetLight.Record.Circuits;

/// <summary>
/// The readings of a circuit over months, thinned out: of each fortnight the newest of each place and quantity. Like the
/// window it depends on nothing but the set of readings that count; unlike it, it reaches back over a year and more
/// however often a circuit is read.
/// </summary>
/// <param name="Entries">The readings, oldest first, in the order of the facts.</param>
public sealed record ReadingHistory(ImmutableArray<ReadingEntry> Entries)
{
    /// <summary>Length of a fortnight, days.</summary>
    public const int FortnightDays = 14;

    /// <summary>Most fortnights: the newest in which anything was read.</summary>
    public const int MostFortnights = 32;

    /// <summary>Most places and quantities in a fortnight: those read last in it.</summary>
    public const int MostSpots = 6;

    private const long Fortnight = FortnightDays * TimeSpan.TicksPerDay;

    /// <summary>A history without a reading.</summary>
    public static ReadingHistory Empty { get; } = new(ImmutableArray<ReadingEntry>.Empty);

    /// <summary>The history of these readings, in any order.</summary>
    public static ReadingHistory Of(IEnumerable<ReadingEntry> counting) =>
        counting.Aggregate(Empty, (history, entry) => history.With(entry));

    /// <summary>
    /// Whether no reading taken at or before this time can stand in the history: it is full of newer fortnights.
    /// </summary>
    public bool IsFullBefore(DateTimeOffset at) => Entries.Length > 0 && NumberOf(at) < NumberOf(Entries[0]) && IsFull;

    /// <summary>
    /// The history with the reading in its place; the same history where newer ones leave no place for it.
    /// </summary>
    public ReadingHistory With(ReadingEntry entry)
    {
        if (IsFullBefore(entry.HappenedAt)) return this;
        var number = NumberOf(entry);
        var (from, until) = (Entries.Length, Entries.Length);
        while (from > 0 && NumberOf(Entries[from - 1]) >= number) from--;
        while (until > from && NumberOf(Entries[until - 1]) > number) until--;
        var all = Entries;
        for (var i = from; i < until; i++)
        {
            if (!IsAtSame(Entries[i], entry)) continue;
            if (ReadingEntry.InOrder.Compare(Entries[i], entry) > 0 || Entries[i] == entry) return this;
            all = all.RemoveAt(i);
            until--;
            break;
        }

        if (until - from == MostSpots)
        {
            if (ReadingEntry.InOrder.Compare(all[from], entry) > 0) return this;
            all = all.RemoveAt(from);
            until--;
        }

        var at = from;
        while (at < until && ReadingEntry.InOrder.Compare(all[at], entry) < 0) at++;
        return new ReadingHistory(all.Insert(at, entry)).Cut();
    }

    private bool IsFull => Fortnights() >= MostFortnights;

    // Its oldest fortnight falls out where there are too many.
    private ReadingHistory Cut()
    {
        if (Fortnights() <= MostFortnights) return this;
        var oldest = 0;
        while (NumberOf(Entries[oldest]) == NumberOf(Entries[0])) oldest++;
        return new(Entries.RemoveRange(0, oldest));
    }

    private int Fortnights()
    {
        var count = 0;
        for (var i = 0; i < Entries.Length; i++)
            if (i == 0 || NumberOf(Entries[i]) != NumberOf(Entries[i - 1])) count++;
        return count;
    }

    private static bool IsAtSame(ReadingEntry one, ReadingEntry other) =>
        one.Place == other.Place && one.Quantity == other.Quantity && one.PlaceId == other.PlaceId;

    private static long NumberOf(ReadingEntry entry) => NumberOf(entry.HappenedAt);

    private static long NumberOf(DateTimeOffset at) => at.UtcTicks / Fortnight;
}
