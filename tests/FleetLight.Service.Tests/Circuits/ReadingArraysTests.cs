using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Circuits;
using FleetLight.Service.Circuits;
using Xunit;

namespace FleetLight.Service.Tests.Circuits;

public sealed class ReadingArraysTests
{
    public static TheoryData<bool, string?> Meters => new() { { false, null }, { true, null }, { false, "meter 7" }, { true, "meter 7" } };

    [Theory]
    [MemberData(nameof(Meters))]
    public void A_reading_is_read_as_it_was_written(bool hasAccuracy, string? name)
    {
        ReadingEntry entry = Entry with
        {
            Meter = hasAccuracy ? new MeterAccuracy { PercentOfReading = 0.5, Digits = 2, Resolution = 0.01 } : null,
            MeterName = name,
        };

        Assert.Equal(entry, ReadingArrays.FromText(ReadingArrays.ToText(entry)));
    }

    [Fact]
    public void What_later_versions_add_at_its_end_is_passed_over()
    {
        string text = ReadingArrays.ToText(Entry with { MeterName = "meter 7" });

        Assert.EndsWith("\"meter 7\"]]", text, StringComparison.Ordinal);
        Assert.Equal("meter 7", ReadingArrays.FromText(text[..^2] + ",5,\"more\"]]").MeterName);
    }

    private static ReadingEntry Entry => new()
    {
        Source = "crew-a",
        SiteId = Some.Site,
        CircuitId = Some.Circuit,
        RunningNumber = 3,
        Id = "f3",
        HappenedAt = new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero),
        RecordedAt = new DateTimeOffset(2026, 3, 2, 9, 0, 0, TimeSpan.Zero),
        Place = ReadingPlaceKind.Fitting,
        PlaceId = "fitting-1",
        Quantity = ReadingQuantity.VoltsDc,
        Value = 4.61,
    };
}
