using FleetLight.Contracts.Facts;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;

namespace FleetLight.Faults.Tests.Load;

/// <summary>Honest devices of one organisation at work: each builds a site of its own and measures there.</summary>
internal sealed class FleetLoad : IDisposable
{
    private CancellationTokenSource stop = new();
    private Task[] working = [];

    private FleetLoad(Organisation organisation, HonestDevice[] devices) => (Organisation, Devices) = (organisation, devices);

    /// <summary>The organisation.</summary>
    public Organisation Organisation { get; }

    /// <summary>Its devices.</summary>
    public HonestDevice[] Devices { get; }

    /// <summary>Makes an organisation with devices that do not work yet.</summary>
    /// <param name="host">Calls with the first key.</param>
    /// <param name="name">Name of the organisation.</param>
    /// <param name="count">Number of devices.</param>
    /// <param name="seed">What chance draws from.</param>
    /// <param name="patience">How long a device waits for an answer.</param>
    /// <param name="addresses">Where the service answers.</param>
    public static async Task<FleetLoad> CreateAsync(ApiClient host, string name, int count, int seed, TimeSpan patience, params Uri[] addresses) =>
        await CreateAsync(host, name, new Func<TimeSpan>?[count], seed, patience, addresses);

    /// <summary>The same with devices whose clocks may be wrong.</summary>
    public static async Task<FleetLoad> CreateAsync(
        ApiClient host, string name, Func<TimeSpan>?[] clockErrors, int seed, TimeSpan patience, params Uri[] addresses)
    {
        int count = clockErrors.Length;
        Organisation organisation = await Organisation.CreateAsync(host, name);
        HonestDevice[] devices = new HonestDevice[count];
        for (int index = 0; index < count; index++)
        {
            string key = (await organisation.AddDeviceAsync($"urn:device:{index}")).Api.Key!;
            string own = $"{index}";
            devices[index] = new HonestDevice(
                addresses, key, $"urn:device:{index}", number => FactOf(own, number), new Random(seed + index), patience)
            {
                ClockError = clockErrors[index],
            };
        }

        return new FleetLoad(organisation, devices);
    }

    /// <summary>What a device records under a running number: a site, a circuit, boxes without gel, which raise an alert each, and readings.</summary>
    public static IFact FactOf(string device, int number) => number switch
    {
        1 => Facts.SiteOpened($"site-{device}"),
        2 => CircuitFacts.Designed($"circuit-{device}", siteId: $"site-{device}"),
        _ when number % 10 == 0 => Facts.BoxSealed($"box-{device}-{number}", gelFilled: false, siteId: $"site-{device}"),
        _ => CircuitFacts.Reading(9 + number % 7 * 0.1, circuitId: $"circuit-{device}", siteId: $"site-{device}"),
    };

    /// <summary>Begins to work.</summary>
    public void Begin()
    {
        stop = new CancellationTokenSource();
        working = [.. Devices.Select(device => Task.Run(() => device.WorkAsync(stop.Token)))];
    }

    /// <summary>Stops recording, and sends until everything has a receipt.</summary>
    public async Task FinishAsync()
    {
        await stop.CancelAsync();
        await Task.WhenAll(working);
        working = [];
        await Task.WhenAll(Devices.Select(device => device.DrainAsync(TimeSpan.FromSeconds(90))));
    }

    /// <summary>Waits until every device had that many more batches taken.</summary>
    public async Task TakenAsync(int more)
    {
        int[] before = [.. Devices.Select(device => device.Taken)];
        await Eventually.IsSoAsync(
            () => Devices.Zip(before).All(each => each.First.Taken >= each.Second + more), $"{more} batches of every device to be taken");
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        stop.Cancel();
        foreach (HonestDevice device in Devices) device.Dispose();
        stop.Dispose();
    }
}
