using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>Taking readings of what is true.</summary>
internal static class Readings
{
    /// <summary>Volts and milliamps at the driver, and the volts at the far end of a constant-voltage feed.</summary>
    /// <param name="world">The world.</param>
    /// <param name="circuit">The circuit.</param>
    /// <param name="device">The device that records them; its meter takes them.</param>
    /// <param name="next">Gives the moment of each reading.</param>
    public static void Take(World world, CircuitPlan circuit, Device device, Func<DateTimeOffset> next)
    {
        Record(world, circuit, device, next(), ReadingQuantity.VoltsDc);
        Record(world, circuit, device, next(), ReadingQuantity.Milliamps);
        if (circuit.Design.Drive == DriveKind.ConstantVoltage)
            Record(world, circuit, device, next(), ReadingQuantity.VoltsDc, circuit.Design.Fittings[^1].FittingId);
    }

    /// <summary>Records one reading.</summary>
    /// <param name="world">The world.</param>
    /// <param name="circuit">The circuit.</param>
    /// <param name="device">The device.</param>
    /// <param name="at">When.</param>
    /// <param name="quantity">What.</param>
    /// <param name="fittingId">At which fitting; none for the driver.</param>
    /// <param name="mistype">Turns what the meter showed into what was typed.</param>
    public static Entry Record(
        World world, CircuitPlan circuit, Device device, DateTimeOffset at, ReadingQuantity quantity,
        string? fittingId = null, Func<double, double>? mistype = null)
    {
        var truth = world.Truth[circuit.Id];
        var meter = world.Meters[device];
        var noise = Chance.Of(world.Seed, $"{circuit.Id} {at.ToUnixTimeSeconds()} {quantity} {fittingId}");
        var (shown, accuracy) = quantity switch
        {
            ReadingQuantity.LoopOhms => (meter.Ohms(truth.LoopOhms(at), noise), meter.OhmsAccuracy),
            ReadingQuantity.Milliamps => (meter.Milliamps(truth.At(at, world.Season).DriverMilliamps, noise), meter.MilliampsAccuracy),
            _ => (meter.Volts(VoltsAt(truth.At(at, world.Season), fittingId), noise), meter.VoltsAccuracy),
        };
        return world.Journal.Add(device, at, new ReadingTaken
        {
            SiteId = circuit.Design.SiteId,
            CircuitId = circuit.Id,
            Place = fittingId is null ? ReadingPlaceKind.Driver : ReadingPlaceKind.Fitting,
            PlaceId = fittingId,
            Quantity = quantity,
            Value = mistype is null ? shown : mistype(shown),
            Meter = accuracy,
        });
    }

    private static double VoltsAt(Physics.TrueReading reading, string? fittingId) =>
        fittingId is null ? reading.DriverVolts : reading.VoltsAt[fittingId];
}
