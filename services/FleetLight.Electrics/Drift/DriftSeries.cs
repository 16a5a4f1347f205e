using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Readings of one quantity at one place of one circuit, taken over months, in any order.</summary>
/// <param name="Quantity">What was measured, and so in which unit.</param>
/// <param name="Readings">The readings; the same one sent twice counts once.</param>
public sealed record DriftSeries(MeasuredQuantity Quantity, ImmutableArray<DriftReading> Readings)
{
    /// <summary>Recorded repairs and other work on the circuit that may have changed what it reads.</summary>
    public ImmutableArray<RecordedWork> Works { get; init; } = [];

    /// <summary>
    /// The least reading that is still well, in the unit of the quantity, by the newest design; null where there is
    /// none.
    /// </summary>
    public double? LowLimit { get; init; }

    /// <summary>
    /// The greatest reading that is still well, in the unit of the quantity, by the newest design; null where there is
    /// none.
    /// </summary>
    public double? HighLimit { get; init; }

    /// <summary>
    /// How much of itself the reading changes per kelvin, 1/K, −0.1 to 0.1; null for the stated default of the quantity
    /// (<see cref="DriftOptions"/>).
    /// </summary>
    public double? SharePerKelvin { get; init; }

    /// <summary>
    /// Latitude of the site, degrees, −90 to 90: outside the tropics it says when it is warm, so a season is told from a
    /// drift much sooner. Null where not known.
    /// </summary>
    public double? LatitudeDegrees { get; init; }
}

/// <summary>One reading of a series.</summary>
/// <param name="At">When it was taken.</param>
/// <param name="Value">The number on the meter, in the unit of the quantity.</param>
public sealed record DriftReading(DateTimeOffset At, double Value)
{
    /// <summary>
    /// What the circuit should have read by the design of that time, in the unit of the quantity; null where not known.
    /// Where it is known for some readings of a series only, the others are left out.
    /// </summary>
    public double? Expected { get; init; }

    /// <summary>Standard uncertainty of what was expected, in the unit of the quantity; null where not known.</summary>
    public double? ExpectedStandardUncertainty { get; init; }

    /// <summary>
    /// The design that <see cref="Expected"/> follows from, by any name: readings of different designs are joined by
    /// their deviation from what was expected. Null where the design did not change.
    /// </summary>
    public string? DesignId { get; init; }

    /// <summary>The meter, by any name; readings without one count as of one meter.</summary>
    public string? MeterId { get; init; }

    /// <summary>The meter's accuracy; null for the stated default of the quantity.</summary>
    public MeterAccuracy? Meter { get; init; }

    /// <summary>
    /// Temperature of the conductor (loop) or about the fittings (volts) as recorded, °C, −60 to 150; null where not
    /// recorded.
    /// </summary>
    public double? Celsius { get; init; }
}

/// <summary>Recorded work that may have changed what a circuit reads.</summary>
/// <param name="At">When it was done.</param>
/// <param name="What">What was done, in a few words; may be empty.</param>
public sealed record RecordedWork(DateTimeOffset At, string What);
