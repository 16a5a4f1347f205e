using FleetLight.Client.Reading;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Views;

namespace FleetLight.Client.Taking;

/// <summary>
/// The ledger of facts (RFC 9162, SHA-256): signed checkpoints and the proofs between them. Nothing is checked here: whoever wants proof checks it with
/// keys and checkpoints kept from before, as the contract describes, or with the program FleetLight.Verify.
/// </summary>
public sealed class LedgerApi
{
    private readonly Transport transport;

    internal LedgerApi(Transport transport) => this.transport = transport;

    /// <summary>The newest checkpoint.</summary>
    /// <exception cref="FleetLightException">There is none yet, or no answer came.</exception>
    public Task<CheckpointView> CheckpointAsync(CancellationToken cancel = default) => transport.ReadAsync<CheckpointView>(Call.Get("v1/ledger/checkpoint"), cancel);

    /// <summary>Has one made that takes in all that was recorded before; the newest again where nothing is new.</summary>
    public Task<CheckpointView> MakeCheckpointAsync(CancellationToken cancel = default) =>
        transport.ReadAsync<CheckpointView>(Call.With(HttpMethod.Post, "v1/ledger/checkpoint", new { }), cancel);

    /// <summary>Every checkpoint, the newest first, page after page.</summary>
    public IAsyncEnumerable<CheckpointView> CheckpointsAsync(CancellationToken cancel = default) =>
        Pages.ListAsync<CheckpointView>(transport, "v1/ledger/checkpoints", cancel);

    /// <summary>Every key that ever signed here. Keep those that you have once believed.</summary>
    public Task<LedgerKeySet> KeysAsync(CancellationToken cancel = default) => transport.ReadAsync<LedgerKeySet>(Call.Get("v1/ledger/keys"), cancel);

    /// <summary>That a fact is in the ledger: its line as it is kept now, and the path from that to the root of a checkpoint.</summary>
    /// <param name="fact">The fact as lists name it, <c>source#id</c>.</param>
    /// <param name="size">Size of the checkpoint, in facts; the newest where absent.</param>
    /// <param name="cancel">Ends it.</param>
    public Task<InclusionView> InclusionAsync(string fact, long? size = null, CancellationToken cancel = default) =>
        transport.ReadAsync<InclusionView>(Call.Get(Pages.With($"v1/ledger/inclusion/{Uri.EscapeDataString(fact)}", ("size", Call.Number(size)))), cancel);

    /// <summary>That the ledger of one size begins with that of another.</summary>
    /// <param name="first">The smaller size, in facts.</param>
    /// <param name="second">The larger one; the newest checkpoint where absent.</param>
    /// <param name="cancel">Ends it.</param>
    public Task<ConsistencyView> ConsistencyAsync(long first, long? second = null, CancellationToken cancel = default) =>
        transport.ReadAsync<ConsistencyView>(Call.Get(Pages.With("v1/ledger/consistency", ("first", Call.Number(first)), ("second", Call.Number(second)))), cancel);

    /// <summary>A digest over the facts of a site.</summary>
    public Task<SiteLedgerView> SiteAsync(string site, CancellationToken cancel = default) =>
        transport.ReadAsync<SiteLedgerView>(Call.Get($"v1/ledger/sites/{Uri.EscapeDataString(site)}"), cancel);

    /// <summary>The leaves that the digest of a site is over, in the order of the ledger, page after page.</summary>
    public IAsyncEnumerable<LeafView> LeavesAsync(string site, CancellationToken cancel = default) =>
        Pages.ListAsync<LeafView>(transport, $"v1/ledger/sites/{Uri.EscapeDataString(site)}/leaves", cancel);
}
