namespace FleetLight.Electrics.Tests.Spice;

/// <summary>What the simulator says a circuit reads, and the deck that it said it of.</summary>
internal sealed class Oracle(string deck, bool isDirect)
{
    private readonly Dictionary<(string Place, MeasuredQuantity Quantity), double> readings = [];

    public string Deck => deck;

    /// <summary>See <see cref="OperatingPoint.IsDirect"/>.</summary>
    public bool IsDirect => isDirect;

    /// <summary>Every reading: V or mA.</summary>
    public IReadOnlyDictionary<(string Place, MeasuredQuantity Quantity), double> Readings => readings;

    public double DriverVolts => readings[(CircuitModel.DriverNode, MeasuredQuantity.VoltsDc)];

    public double DriverMilliamps => readings[(CircuitModel.DriverNode, MeasuredQuantity.Milliamps)];

    public void Add(string place, MeasuredQuantity quantity, double value) => readings.Add((place, quantity), value);
}
