using System.Runtime.Versioning;
using FleetLight.Client.Reading;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;

namespace FleetLight.Client.Taking;

/// <summary>
/// The ledger of facts (RFC 9162, SHA-256): signed checkpoints and the proofs between them. <see cref="ProveAsync"/> and <see cref="ProveGrowthAsync"/>
/// check what they fetch, with keys and checkpoints kept from before; everything else is handed on as it came.
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

    /// <summary>Fetches the proof that a fact is in the ledger, and checks it.</summary>
    /// <param name="fact">The fact as lists name it, <c>source#id</c>.</param>
    /// <param name="believed">Keys that are believed: kept from before, or from somebody else than the service.</param>
    /// <param name="kept">A checkpoint kept from before, in which the fact has to be; the newest that the service has where absent.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="ProofException">It was not proved; says what does not hold.</exception>
    /// <exception cref="FleetLightException">There is no such fact in that checkpoint, or no answer came.</exception>
    [UnsupportedOSPlatform("browser")]
    public async Task<ProvedFact> ProveAsync(string fact, LedgerKeySet believed, CheckpointView? kept = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(believed);
        var before = kept is null ? null : NoteOf(kept, believed);
        var proof = await InclusionAsync(fact, before?.Size, cancel).ConfigureAwait(false);
        var checkpoint = before ?? NoteOf(proof.Checkpoint, believed);
        if (LedgerProof.Inclusion(proof, fact, checkpoint) is { } wrong) throw new ProofException(wrong);
        return new ProvedFact(fact, proof.Index, proof.Line, checkpoint);
    }

    /// <summary>Fetches the proof that the ledger still begins with everything that a checkpoint had, and checks it.</summary>
    /// <param name="kept">The checkpoint, kept from before.</param>
    /// <param name="believed">Keys that are believed: kept from before, or from somebody else than the service.</param>
    /// <param name="newer">A later checkpoint; the newest that the service has where absent.</param>
    /// <param name="cancel">Ends it.</param>
    /// <returns>The later checkpoint, with organisation, size, root and time as they are signed; worth keeping in place of the other.</returns>
    /// <exception cref="ProofException">It was not proved; says what does not hold.</exception>
    /// <exception cref="FleetLightException">No answer came.</exception>
    [UnsupportedOSPlatform("browser")]
    public async Task<CheckpointView> ProveGrowthAsync(
        CheckpointView kept, LedgerKeySet believed, CheckpointView? newer = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(kept);
        ArgumentNullException.ThrowIfNull(believed);
        newer ??= await CheckpointAsync(cancel).ConfigureAwait(false);
        var (before, after) = (NoteOf(kept, believed), NoteOf(newer, believed));
        // A ledger that became smaller has no proof to ask for.
        var path = before.Size > after.Size ? [] : (await ConsistencyAsync(before.Size, after.Size, cancel).ConfigureAwait(false)).Path;
        if (LedgerProof.Consistency(path, before, after) is { } wrong) throw new ProofException(wrong);
        return newer with { Organisation = after.Organisation, Size = after.Size, Root = Convert.ToHexStringLower(after.Root), MadeAt = after.MadeAt };
    }

    /// <summary>A digest over the facts of a site.</summary>
    public Task<SiteLedgerView> SiteAsync(string site, CancellationToken cancel = default) =>
        transport.ReadAsync<SiteLedgerView>(Call.Get($"v1/ledger/sites/{Uri.EscapeDataString(site)}"), cancel);

    /// <summary>The leaves that the digest of a site is over, in the order of the ledger, page after page.</summary>
    public IAsyncEnumerable<LeafView> LeavesAsync(string site, CancellationToken cancel = default) =>
        Pages.ListAsync<LeafView>(transport, $"v1/ledger/sites/{Uri.EscapeDataString(site)}/leaves", cancel);

    private static CheckpointNote NoteOf(CheckpointView? checkpoint, LedgerKeySet believed) =>
        LedgerProof.Checkpoint(checkpoint?.Jws, CheckpointKey.Of(believed), out var note) is { } wrong ? throw new ProofException(wrong) : note!;
}
