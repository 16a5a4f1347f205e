using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Endurance.Tests.Hosting;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;

namespace FleetLight.Endurance.Tests.RollForward;

/// <summary>A device that builds and measures on a site of its own, and hands in at one node or the other.</summary>
internal sealed class RollingCrew(string name, Device device)
{
    private readonly List<SentEvent> recorded = [];

    /// <summary>The device.</summary>
    public Device Device => device;

    /// <summary>All that it recorded and that was taken, in its order.</summary>
    public IReadOnlyList<SentEvent> Recorded => recorded;

    /// <summary>Its circuit.</summary>
    public string Circuit => $"circuit-{name}";

    /// <summary>Its site.</summary>
    public string Site => $"site-{name}";

    /// <summary>Its first box.</summary>
    public string Box => $"box-{name}";

    /// <summary>A circuit from the duct to the driver, and a box without gel.</summary>
    public Task BuildAsync(ServiceProcess node) => HandInAsync(
        node,
        Facts.SiteOpened(Site), Facts.DuctLaid($"duct-{name}", siteId: Site),
        Facts.CablePulled($"cable-{name}", [$"duct-{name}"], cores: [Facts.Core("brown", Circuit), Facts.Core("blue", Circuit)], siteId: Site),
        Facts.BoxSealed(Box, gelFilled: false, siteId: Site), CircuitFacts.Designed(Circuit, siteId: Site),
        CircuitFacts.Fixed("F1", circuitId: Circuit, siteId: Site), CircuitFacts.Fixed("F2", circuitId: Circuit, siteId: Site),
        CircuitFacts.Connected(circuitId: Circuit, siteId: Site), CircuitFacts.Energised(circuitId: Circuit, siteId: Site));

    /// <summary>A reading, and now and then a box without gel, which raises an alert, or one that is sealed again with gel, which clears it.</summary>
    public Task MeasureAsync(ServiceProcess node, int turn) => HandInAsync(node, (turn % 8) switch
    {
        3 => Facts.BoxSealed($"{Box}-{turn}", gelFilled: false, siteId: Site),
        7 => Facts.BoxSealed($"{Box}-{turn - 4}", gelFilled: true, siteId: Site),
        _ => CircuitFacts.Reading(9.2 + turn % 5 * 0.01, circuitId: Circuit, siteId: Site),
    });

    /// <summary>Where its first box lies: a type of fact that came with version 5.</summary>
    public PlaceMeasured Place() =>
        new() { SiteId = Site, Kind = ThingKind.Box, ThingId = Box, Position = new GeoPoint { Type = "Point", Coordinates = [11.5, 48.1], AccuracyMetres = 2 } };

    /// <summary>Records facts and hands them in.</summary>
    public async Task HandInAsync(ServiceProcess node, params IFact[] facts)
    {
        SentEvent[] events = device.Record(facts);
        await SendAsync(node, events);
        recorded.AddRange(events);
    }

    /// <summary>Records one fact that the node does not know, and hands it in; answers the id under which it was set aside.</summary>
    public async Task<(SentEvent Event, string RefusedId)> RefusedAsync(ServiceProcess node, IFact fact)
    {
        SentEvent sent = device.Record(fact);
        BatchReceipt receipt = await SendAsync(node, sent);
        recorded.Add(sent);
        return (sent, receipt.Outcomes.Single().RefusedId!);
    }

    /// <summary>Hands in what it handed in last once more, as a device does that got no answer.</summary>
    public Task<BatchReceipt> AgainAsync(ServiceProcess node) => SendAsync(node, recorded[^1]);

    /// <summary>Hands all of it in at a service that had no trouble.</summary>
    public static async Task TwinAsync(RollingCrew crew, Device twin)
    {
        foreach (SentEvent[] batch in crew.recorded.Chunk(500)) await twin.SendAsync(batch);
    }

    /// <summary>What the service has of it.</summary>
    public Task<Receipt> ReceiptAsync(ServiceProcess node) => At(node).ReceiptAsync();

    private Task<BatchReceipt> SendAsync(ServiceProcess node, params SentEvent[] events) => At(node).SendAsync(events);

    private Device At(ServiceProcess node) => new(node.Anybody.With(device.Api.Key), device.Source);
}
