using FleetLight.FieldAgent.Faults;
using FleetLight.FieldAgent.Identity;
using FleetLight.FieldAgent.Outbox;
using FleetLight.FieldAgent.Receiving;
using FleetLight.FieldAgent.Sending;

namespace FleetLight.FieldAgent;

/// <summary>The parts that the running agent and the command line share, on one folder.</summary>
internal sealed class AgentParts : IDisposable
{
    private AgentParts(FieldOptions options, TimeProvider clock, IFaultPoints faults)
    {
        Options = options;
        Clock = clock;
        Faults = faults;
        Outbox = OutboxFile.Open(options.Folder, faults);
        Desk = new FactDesk(Outbox, clock);
        Shelf = new FactShelf(Outbox);
        Outgoing = new Outgoing(Outbox, clock);
        Identities = new IdentityFile(options.Folder, faults);
        Sites = new SiteShelf(Outbox);
    }

    /// <summary>How the agent runs.</summary>
    public FieldOptions Options { get; }

    /// <summary>The clock.</summary>
    public TimeProvider Clock { get; }

    /// <summary>Where the power may go.</summary>
    public IFaultPoints Faults { get; }

    /// <summary>The outbox.</summary>
    public OutboxFile Outbox { get; }

    /// <summary>Records.</summary>
    public FactDesk Desk { get; }

    /// <summary>Looks up.</summary>
    public FactShelf Shelf { get; }

    /// <summary>What is sent.</summary>
    public Outgoing Outgoing { get; }

    /// <summary>Who the device is.</summary>
    public IdentityFile Identities { get; }

    /// <summary>What is known of the sites.</summary>
    public SiteShelf Sites { get; }

    /// <summary>Opens them.</summary>
    /// <exception cref="OutboxDamagedException">The outbox is not whole.</exception>
    public static AgentParts Open(FieldOptions options) => new(options, TimeProvider.System, FaultPoints.OfEnvironment());

    /// <inheritdoc/>
    public void Dispose() => Outbox.Dispose();
}
