using FleetLight.Contracts;
using FleetLight.Record.Circuits;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>Law: a history depends on nothing but the set of readings that count.</summary>
public sealed class ReadingHistoryTests
{
    [Property(MaxTest = 500)]
    public void Any_order_of_arrival_gives_the_same_history(NonNegativeInt count, DoNotSize<int> seed)
    {
        var random = new Random(seed.Item);
        var entries = Entries(random, count.Get * 4);
        var arrival = entries.Concat(entries.Take(9)).ToArray();
        random.Shuffle(arrival);

        Assert.Equal(Expected(entries), ReadingHistory.Of(arrival).Entries);
    }

    [Property(MaxTest = 200)]
    public void What_is_full_before_a_time_needs_nothing_from_before_it(NonNegativeInt count, DoNotSize<int> seed)
    {
        var random = new Random(seed.Item);
        var entries = Entries(random, 200 + (count.Get * 4)).OrderDescending(ReadingEntry.InOrder).ToArray();
        var history = ReadingHistory.Empty;
        foreach (var entry in entries)
        {
            if (history.IsFullBefore(entry.HappenedAt)) break;
            history = history.With(entry);
        }

        Assert.Equal(Expected(entries), history.Entries);
    }

    [Fact]
    public void A_reading_that_is_there_already_changes_nothing()
    {
        var entries = Entries(new Random(1), 60);
        var history = ReadingHistory.Of(entries);

        Assert.All(entries, entry => Assert.Same(history, history.With(entry)));
    }

    [Fact]
    public void A_replaced_reading_takes_its_own_place()
    {
        var entries = Entries(new Random(1), 3);

        var history = ReadingHistory.Of(entries);
        var changed = history.With(history.Entries[1] with { Value = 7000 });

        Assert.Equal(history.Entries.SetItem(1, history.Entries[1] with { Value = 7000 }), changed.Entries);
    }

    [Fact]
    public void A_year_of_readings_by_the_minute_stays_small()
    {
        var crew = new Crew();
        var history = ReadingHistory.Empty;
        for (var minute = 0; minute < 365 * 24 * 60; minute += 90)
            history = history.With(Entry(crew, Crew.Start.AddMinutes(minute), ReadingPlaceKind.Driver, null, 1));

        Assert.InRange(history.Entries.Length, 26, 28);
    }

    // By the words of the law: of the newest fortnights the newest readings of the places read last.
    private static ReadingEntry[] Expected(IEnumerable<ReadingEntry> entries) =>
    [
        .. entries.GroupBy(entry => entry.HappenedAt.UtcTicks / (ReadingHistory.FortnightDays * TimeSpan.TicksPerDay))
            .OrderByDescending(fortnight => fortnight.Key).Take(ReadingHistory.MostFortnights)
            .SelectMany(fortnight => fortnight.GroupBy(entry => (entry.Place, entry.PlaceId, entry.Quantity))
                .Select(spot => spot.Max(ReadingEntry.InOrder)!)
                .OrderDescending(ReadingEntry.InOrder).Take(ReadingHistory.MostSpots))
            .Order(ReadingEntry.InOrder),
    ];

    private static ReadingEntry[] Entries(Random random, int count)
    {
        Crew[] crews = [new("crew-a"), new("crew-b")];
        return [.. Enumerable.Range(0, count).Select(_ => Entry(
            crews[random.Next(2)],
            Crew.Start.AddDays(random.Next(700)).AddHours(random.Next(2)),
            random.Next(2) == 0 ? ReadingPlaceKind.Driver : ReadingPlaceKind.Box,
            random.Next(3) == 0 ? $"b{random.Next(6)}" : null,
            random.Next(100)))];
    }

    private static ReadingEntry Entry(Crew crew, DateTimeOffset at, ReadingPlaceKind place, string? placeId, double value)
    {
        var reading = CircuitFacts.Reading(value, place: place, placeId: placeId);
        return ReadingEntry.Of(crew.Records(reading, at).Of, reading)!;
    }
}
