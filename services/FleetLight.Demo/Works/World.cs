using FleetLight.Demo.Physics;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>What is true in the invented town, and what was written down of it.</summary>
/// <param name="Seed">Seed.</param>
/// <param name="Anchor">The day that every date is counted from.</param>
internal sealed record World(long Seed, DateTimeOffset Anchor)
{
    /// <summary>The weather.</summary>
    public Season Season { get; } = new(Seed);

    /// <summary>What was written down.</summary>
    public Journal Journal { get; } = new();

    /// <summary>The circuits as they truly are.</summary>
    public Dictionary<string, TrueCircuit> Truth { get; } = new(StringComparer.Ordinal);

    /// <summary>The meter beside each device.</summary>
    public IReadOnlyDictionary<Device, Meter> Meters { get; } = Crews.Devices.ToDictionary(
        device => device, device => new Meter(device.BetterMeter, Chance.Of(Seed, $"meter of {device.Name}")));
}

/// <summary>The building of a site, which all its works share.</summary>
/// <param name="World">The world.</param>
/// <param name="Site">The site.</param>
/// <param name="Clock">The crew's day.</param>
internal sealed record Job(World World, SitePlan Site, WorkClock Clock)
{
    /// <summary>The crew's phone.</summary>
    public Device Phone => Site.Crew.Phone;

    /// <summary>Writes down what the crew has just done.</summary>
    public Entry Did(Contracts.Facts.IFact fact) => Did(Phone, fact);

    /// <summary>Writes down on a device what has just been done.</summary>
    public Entry Did(Device device, Contracts.Facts.IFact fact) => World.Journal.Add(device, Clock.Step(), fact);
}
