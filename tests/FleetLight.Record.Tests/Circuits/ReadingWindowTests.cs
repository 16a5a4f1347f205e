using FleetLight.Record.Circuits;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>Law: a window depends on nothing but the set of readings that count.</summary>
public sealed class ReadingWindowTests
{
    [Property(MaxTest = 500)]
    public void Any_order_of_arrival_gives_the_same_window(NonNegativeInt count, DoNotSize<int> seed)
    {
        var entries = Entries(count.Get % 60);
        var arrival = entries.Concat(entries.Take(5)).ToArray();
        new Random(seed.Item).Shuffle(arrival);

        var window = arrival.Aggregate(ReadingWindow.Empty, (window, entry) => window.With(entry));

        Assert.Equal(entries.TakeLast(ReadingWindow.Size), window.Entries);
        Assert.Equal(entries.Length > ReadingWindow.Size, window.Cut);
        Assert.Equal(ReadingWindow.Of(entries).Entries, window.Entries);
    }

    [Property(MaxTest = 500)]
    public void Taking_readings_away_uncovers_older_ones(NonNegativeInt count, DoNotSize<int> seed)
    {
        var left = Entries(count.Get % 60).ToList();
        var random = new Random(seed.Item);
        var window = ReadingWindow.Of(left);

        for (var i = random.Next(20); i > 0 && left.Count > 0; i--)
        {
            var gone = left[random.Next(left.Count)];
            left.Remove(gone);
            window = window.Without(gone.Fact);
            if (window.NeedsRefill) window = window.Refill(left.TakeLast(ReadingWindow.Size + 1));
        }

        Assert.Equal(left.TakeLast(ReadingWindow.Size), window.Entries);
    }

    [Fact]
    public void A_reading_that_is_there_already_changes_nothing()
    {
        var entries = Entries(20);
        var window = ReadingWindow.Of(entries);

        Assert.Same(window, window.With(entries[^1]));
        Assert.Same(window, window.With(entries[0]));
        Assert.Same(window, window.Without("nobody#1"));
    }

    [Fact]
    public void A_replaced_reading_takes_its_own_place()
    {
        var entries = Entries(3);

        var window = ReadingWindow.Of(entries).With(entries[1] with { Value = 7 });

        Assert.Equal([0, 7, 2], window.Entries.Select(entry => entry.Value));
    }

    private static ReadingEntry[] Entries(int count)
    {
        var crew = new Crew();
        return [.. Enumerable.Range(0, count).Select(i => ReadingEntry.Of(
            crew.Records(CircuitFacts.Reading(i)).Of, CircuitFacts.Reading(i))!)];
    }
}
