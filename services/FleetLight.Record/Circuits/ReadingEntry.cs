using System.Text.Json.Serialization;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;

namespace FleetLight.Record.Circuits;

/// <summary>A reading that counts, as short as it can be kept.</summary>
public sealed record ReadingEntry
{
    private string? fact;

    /// <summary>Source of the fact.</summary>
    public required string Source { get; init; }

    /// <summary>Running number of the fact.</summary>
    public required int RunningNumber { get; init; }

    /// <summary>Id of the fact.</summary>
    public required string Id { get; init; }

    /// <summary>When it was taken, corrected.</summary>
    public required DateTimeOffset HappenedAt { get; init; }

    /// <summary>When it was known.</summary>
    public required DateTimeOffset RecordedAt { get; init; }

    /// <summary>The site it names.</summary>
    public required string SiteId { get; init; }

    /// <summary>The circuit.</summary>
    public required string CircuitId { get; init; }

    /// <summary>Where it was taken.</summary>
    public required ReadingPlaceKind Place { get; init; }

    /// <summary>The box or fitting.</summary>
    public string? PlaceId { get; init; }

    /// <summary>What was measured.</summary>
    public required ReadingQuantity Quantity { get; init; }

    /// <summary>The value, in V, mA or Ω.</summary>
    public required double Value { get; init; }

    /// <summary>Accuracy of the meter, where stated.</summary>
    public MeterAccuracy? Meter { get; init; }

    /// <summary>Which meter, where stated.</summary>
    public string? MeterName { get; init; }

    /// <summary>The fact as evidence, <c>source#id</c>.</summary>
    [JsonIgnore]
    public string Fact => fact ??= FactKey.Of(Source, Id);

    /// <summary>The entry of a recorded reading; none where the data is no reading.</summary>
    /// <param name="of">Origin of the fact.</param>
    /// <param name="data">The data that counts: its own, or what replaced it.</param>
    public static ReadingEntry? Of(FactOrigin of, IFact? data) => data is not ReadingTaken reading
        ? null
        : new ReadingEntry
        {
            Source = of.Source,
            RunningNumber = of.RunningNumber,
            Id = of.Id,
            HappenedAt = of.HappenedAt.ToUniversalTime(),
            RecordedAt = of.RecordedAt.ToUniversalTime(),
            SiteId = reading.SiteId,
            CircuitId = reading.CircuitId,
            Place = reading.Place,
            PlaceId = reading.PlaceId,
            Quantity = reading.Quantity,
            Value = reading.Value,
            Meter = reading.Meter,
            MeterName = reading.MeterName,
        };

    /// <summary>The entry of a reading after its corrections; none where it was withdrawn.</summary>
    public static ReadingEntry? Of(EffectiveFact fact) => Of(fact.Original.Of, fact.CountingData);

    /// <summary>The order of <see cref="FactOrder"/>.</summary>
    public static IComparer<ReadingEntry> InOrder { get; } = Comparer<ReadingEntry>.Create(Compare);

    private static int Compare(ReadingEntry one, ReadingEntry other)
    {
        var byTime = one.HappenedAt.UtcTicks.CompareTo(other.HappenedAt.UtcTicks);
        if (byTime != 0) return byTime;
        var bySource = string.CompareOrdinal(one.Source, other.Source);
        if (bySource != 0) return bySource;
        var byNumber = one.RunningNumber.CompareTo(other.RunningNumber);
        return byNumber != 0 ? byNumber : string.CompareOrdinal(one.Id, other.Id);
    }
}
