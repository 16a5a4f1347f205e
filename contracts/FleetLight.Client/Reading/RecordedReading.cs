using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Client.Reading;

/// <summary>A reading of a circuit that counts.</summary>
public sealed record RecordedReading
{
    /// <summary>The device that recorded it.</summary>
    public required string Source { get; init; }

    /// <summary>Id of the fact.</summary>
    public required string Id { get; init; }

    /// <summary>When it was taken, corrected by the clock error of the device.</summary>
    public required DateTimeOffset HappenedAt { get; init; }

    /// <summary>When the service knew of it.</summary>
    public required DateTimeOffset RecordedAt { get; init; }

    /// <summary>The circuit.</summary>
    public required string CircuitId { get; init; }

    /// <summary>Where it was taken.</summary>
    public required ReadingPlaceKind Place { get; init; }

    /// <summary>The box or fitting.</summary>
    public string? PlaceId { get; init; }

    /// <summary>What was measured.</summary>
    public required ReadingQuantity Quantity { get; init; }

    /// <summary>The value, in V, mA or Ω as the quantity says.</summary>
    public required double Value { get; init; }

    /// <summary>Accuracy of the meter, where stated.</summary>
    public MeterAccuracy? Meter { get; init; }
}
