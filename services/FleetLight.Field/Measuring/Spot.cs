using FleetLight.Contracts;
using FleetLight.PageParts.Drawings.Circuits;

namespace FleetLight.Field.Measuring;

/// <summary>Where a meter is put: the choice that is remembered from one reading to the next.</summary>
/// <param name="CircuitId">The circuit.</param>
/// <param name="Place">What kind of place.</param>
/// <param name="PlaceId">The box or fitting.</param>
/// <param name="Quantity">What is measured.</param>
public sealed record Spot(string CircuitId, ReadingPlaceKind Place, string? PlaceId, ReadingQuantity Quantity)
{
    /// <summary>Volts at the driver: what is measured first.</summary>
    public static Spot AtDriver(string circuitId) => new(circuitId, ReadingPlaceKind.Driver, null, ReadingQuantity.VoltsDc);

    /// <summary>The place by the name that runs and answers know.</summary>
    public string Node => CircuitParts.PlaceOf(Place, PlaceId);

    /// <summary>The same quantity at another place of the circuit; what cannot be measured there gives way to volts.</summary>
    public Spot At(string node, Func<string, bool> isFitting)
    {
        var moved = node == CircuitParts.DriverPlace
            ? this with { Place = ReadingPlaceKind.Driver, PlaceId = null }
            : this with { Place = isFitting(node) ? ReadingPlaceKind.Fitting : ReadingPlaceKind.Box, PlaceId = node };
        return moved.Quantity == ReadingQuantity.LoopOhms && moved.Place != ReadingPlaceKind.Driver ? moved with { Quantity = ReadingQuantity.VoltsDc } : moved;
    }

    /// <summary>What can be measured at the place: the loop only at the driver, and only where it is one.</summary>
    public IReadOnlyList<ReadingQuantity> Quantities(DriveKind drive) =>
        Place == ReadingPlaceKind.Driver && drive == DriveKind.ConstantCurrent
            ? [ReadingQuantity.VoltsDc, ReadingQuantity.Milliamps, ReadingQuantity.LoopOhms]
            : [ReadingQuantity.VoltsDc, ReadingQuantity.Milliamps];
}
