namespace FleetLight.Contracts.Facts;

/// <summary>Accuracy of a meter on the range used: ± (percent of reading + digits × resolution).</summary>
public sealed record MeterAccuracy
{
    /// <summary>Percent of the reading, 0 to 20.</summary>
    [Quantity("%", 0, 20)]
    public required double PercentOfReading { get; init; }

    /// <summary>Digits (counts), 0 to 100.</summary>
    [Quantity("1", 0, 100)]
    public required double Digits { get; init; }

    /// <summary>Value of one count on that range, in the unit of the reading, 0.000001 to 100.</summary>
    [Quantity("1", 0.000001, 100)]
    public required double Resolution { get; init; }
}

/// <summary>A reading was taken. The value's unit is that of its quantity: V, mA or Ω.</summary>
[FactType("fleetlight.reading.taken.v1")]
public sealed record ReadingTaken : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The circuit.</summary>
    [ThingId]
    public required string CircuitId { get; init; }

    /// <summary>Where it was taken.</summary>
    public required ReadingPlaceKind Place { get; init; }

    /// <summary>The box or fitting, where it was taken at one.</summary>
    [ThingId]
    public string? PlaceId { get; init; }

    /// <summary>What was measured.</summary>
    public required ReadingQuantity Quantity { get; init; }

    /// <summary>The value, in V, mA or Ω as the quantity says, −1,000,000 to 1,000,000.</summary>
    [Quantity("V, mA or ohm", -1000000, 1000000)]
    public required double Value { get; init; }

    /// <summary>Accuracy of the meter; ± (1 % + 3 digits), resolution by the size of the value, where absent.</summary>
    public MeterAccuracy? Meter { get; init; }

    /// <summary>Which meter it was, by the name or number that the crews know it by; the device stands for it where absent.</summary>
    [Text(80)]
    public string? MeterName { get; init; }
}

/// <summary>A test was made. Fields that the kind of test does not need stay absent.</summary>
[FactType("fleetlight.test.made.v1")]
public sealed record TestMade : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The circuit.</summary>
    [ThingId]
    public required string CircuitId { get; init; }

    /// <summary>The kind of test.</summary>
    public required TestKind Test { get; init; }

    /// <summary>Whether it was made on the mains side.</summary>
    public bool MainsSide { get; init; }

    /// <summary>Nominal voltage of the tested circuit, V, 1 to 1,000; needed for insulation resistance.</summary>
    [Quantity("V", 1, 1000)]
    public double? NominalVolts { get; init; }

    /// <summary>Test voltage, V DC, 1 to 5,000 (insulation resistance).</summary>
    [Quantity("V", 1, 5000)]
    public double? TestVolts { get; init; }

    /// <summary>Insulation resistance, MΩ, 0 to 1,000,000.</summary>
    [Quantity("Mohm", 0, 1000000)]
    public double? Megohms { get; init; }

    /// <summary>Resistance, Ω, 0 to 1,000,000 (continuity).</summary>
    [Quantity("ohm", 0, 1000000)]
    public double? Ohms { get; init; }

    /// <summary>Whether the polarity was right (polarity).</summary>
    public bool? PolarityRight { get; init; }

    /// <summary>Rated residual current, mA, 1 to 3,000 (residual current device).</summary>
    [Quantity("mA", 1, 3000)]
    public double? RatedResidualMilliamps { get; init; }

    /// <summary>Test current as a multiple of the rated one, 0.5 to 5 (residual current device).</summary>
    [Quantity("1", 0.5, 5)]
    public double? CurrentMultiple { get; init; }

    /// <summary>Trip time, ms, 0 to 10,000 (residual current device).</summary>
    [Quantity("ms", 0, 10000)]
    public double? TripMilliseconds { get; init; }

    /// <summary>Type of the residual current device; general where absent.</summary>
    public ResidualCurrentDeviceType? DeviceType { get; init; }

    /// <summary>Which tester it was, by the name or number that the crews know it by; the device stands for it where absent.</summary>
    [Text(80)]
    public string? MeterName { get; init; }
}
