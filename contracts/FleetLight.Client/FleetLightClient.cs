using FleetLight.Client.Devices;
using FleetLight.Client.Offices;
using FleetLight.Client.Photos;
using FleetLight.Client.Reading;
using FleetLight.Client.Sending;
using FleetLight.Client.Taking;
using FleetLight.Client.Telling;
using FleetLight.Client.Visits;

namespace FleetLight.Client;

/// <summary>
/// FleetLight's open API for .NET. Make one for each service and key and keep it: it remembers when the service fails.
/// Every call throws a <see cref="FleetLightException"/> where it does not give what was asked for. Safe for several threads.
/// </summary>
public sealed class FleetLightClient : IDisposable
{
    private readonly HttpClient? own;

    /// <summary>A client.</summary>
    /// <param name="options">Where the service is, who asks, and how patiently.</param>
    /// <param name="http">What carries the requests; it stays yours. One of the client's own where absent.</param>
    /// <param name="clock">The clock; the machine's where absent.</param>
    public FleetLightClient(ClientOptions options, HttpClient? http = null, TimeProvider? clock = null)
        : this(options, http, clock, Random.Shared.NextDouble)
    {
    }

    internal FleetLightClient(ClientOptions options, HttpClient? http, TimeProvider? clock, Func<double> chance)
    {
        ArgumentNullException.ThrowIfNull(options);
        if (http is null)
        {
            // Names are looked up again now and then, and a redirect never carries a key elsewhere.
            own = http = new HttpClient(new SocketsHttpHandler { PooledConnectionLifetime = TimeSpan.FromMinutes(5), AllowAutoRedirect = false })
            {
                Timeout = Timeout.InfiniteTimeSpan,
            };
        }

        var transport = new Transport(http, options, clock ?? TimeProvider.System, chance);
        Device = new DeviceApi(transport);
        Enrolment = new EnrolmentApi(transport);
        Status = new StatusApi(transport);
        Facts = new FactApi(transport);
        Changes = new ChangeApi(transport);
        AsBuilt = new AsBuiltApi(transport);
        Calculations = new CalculationApi(transport);
        Office = new OfficeApi(transport);
        Planning = new PlanningApi(transport);
        Photos = new PhotoApi(transport);
        Visits = new VisitApi(transport);
        Subscriptions = new SubscriptionApi(transport);
        Stream = new StreamApi(transport);
        Ledger = new LedgerApi(transport);
        Exports = new ExportApi(transport);
    }

    /// <summary>For a device: hand facts in, see what is in hand.</summary>
    public DeviceApi Device { get; }

    /// <summary>For a device: get a key, get another one, see what it allows.</summary>
    public EnrolmentApi Enrolment { get; }

    /// <summary>For dashboards: sites, circuits, ducts, cables, boxes, alerts.</summary>
    public StatusApi Status { get; }

    /// <summary>For dashboards and devices: facts as they were recorded.</summary>
    public FactApi Facts { get; }

    /// <summary>For dashboards: what changed.</summary>
    public ChangeApi Changes { get; }

    /// <summary>For third parties: what is in the ground.</summary>
    public AsBuiltApi AsBuilt { get; }

    /// <summary>For third parties: calculations on circuits and ducts of their own.</summary>
    public CalculationApi Calculations { get; }

    /// <summary>For an office: devices, codes, refused facts, settings of judging, acts.</summary>
    public OfficeApi Office { get; }

    /// <summary>Photos and their bytes.</summary>
    public PhotoApi Photos { get; }

    /// <summary>Visits: planned by the office, read by whoever goes.</summary>
    public VisitApi Visits { get; }

    /// <summary>For the office and crews: open points, designs as files, materials, labels.</summary>
    public PlanningApi Planning { get; }

    /// <summary>For third parties: have facts, alerts and changes posted to an address.</summary>
    public SubscriptionApi Subscriptions { get; }

    /// <summary>For third parties: the same, fetched in order as they come.</summary>
    public StreamApi Stream { get; }

    /// <summary>For whoever wants proof: checkpoints of the ledger and proofs.</summary>
    public LedgerApi Ledger { get; }

    /// <summary>For whoever takes everything along: files with their digests.</summary>
    public ExportApi Exports { get; }

    /// <inheritdoc/>
    public void Dispose() => own?.Dispose();
}
