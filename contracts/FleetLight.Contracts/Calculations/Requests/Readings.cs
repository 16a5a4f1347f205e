using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Calculations.Requests;

/// <summary>What was measured, where, and with what meter.</summary>
public sealed record ReadingInput
{
    /// <summary>Where: <c>driver</c>, a fitting or another place of the circuit.</summary>
    [ThingId]
    public required string Place { get; init; }

    /// <summary>What, and so in which unit.</summary>
    public required MeasuredAs Quantity { get; init; }

    /// <summary>
    /// The number on the meter, in V, mA, Ω or MΩ as the quantity says, −1,000,000 to 1,000,000; of a fitting 1 lit, 0 dark.
    /// </summary>
    [Quantity("V, mA, ohm or Mohm", -1_000_000, 1_000_000)]
    public required double Value { get; init; }

    /// <summary>
    /// Accuracy of the meter on the range used. Where absent: volts ± (1 % + 3 × 0.01 V), milliamps ± (1.5 % + 3 × 1 mA), loop
    /// ohms ± (1 % + 5 × 0.1 Ω), insulation ± (5 % + 5 × 0.01 MΩ); common practice, no source.
    /// </summary>
    public MeterAccuracy? Meter { get; init; }
}
