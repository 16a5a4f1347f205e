using Microsoft.Extensions.Caching.Memory;

namespace FleetLight.Service.Circuits;

/// <summary>
/// Remembers what follows from a circuit's facts, so that a new reading is judged without reading it again. An entry
/// counts only where its stamp is the one that the circuit's document names, so it can never be out of date.
/// </summary>
public sealed class BasisCache : IDisposable
{
    // About 15 KB each.
    private readonly MemoryCache entries = new(new MemoryCacheOptions { SizeLimit = 20_000 });

    /// <summary>The basis with that stamp, where it is remembered.</summary>
    public StampedBasis? Find(string organisation, string circuitId, string stamp) =>
        entries.TryGetValue((organisation, circuitId), out StampedBasis? known) && known!.Stamp == stamp ? known : null;

    /// <summary>Remembers a basis.</summary>
    public void Add(string organisation, StampedBasis basis) =>
        entries.Set((organisation, basis.Basis.Id), basis, new MemoryCacheEntryOptions { Size = 1 });

    /// <inheritdoc/>
    public void Dispose() => entries.Dispose();
}
