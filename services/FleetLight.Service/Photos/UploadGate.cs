using System.Collections.Concurrent;

namespace FleetLight.Service.Photos;

/// <summary>
/// Bounds how many pictures come in at once, on this node and from one key. A picture is held in memory until it is whole, and
/// over a weak signal that takes minutes: nobody may fill the node with halves of pictures, and no key may take all places.
/// </summary>
public sealed class UploadGate(AttachmentOptions options)
{
    private const int MostOfKey = 2;

    private readonly ConcurrentDictionary<string, int> ofKey = new(StringComparer.Ordinal);
    private int all;

    /// <summary>A place, to be given back by disposing it; none where all are taken.</summary>
    public IDisposable? Enter(string keyId)
    {
        if (ofKey.AddOrUpdate(keyId, 1, (_, before) => before + 1) <= MostOfKey)
        {
            if (Interlocked.Increment(ref all) <= options.MostAtOnce) return new Place(this, keyId);
            Interlocked.Decrement(ref all);
        }

        LeaveKey(keyId);
        return null;
    }

    private void LeaveKey(string keyId)
    {
        ofKey.AddOrUpdate(keyId, 0, (_, before) => before - 1);
        // Only where nobody came meanwhile.
        ofKey.TryRemove(KeyValuePair.Create(keyId, 0));
    }

    private sealed class Place(UploadGate gate, string keyId) : IDisposable
    {
        private int left;

        public void Dispose()
        {
            if (Interlocked.Exchange(ref left, 1) == 1) return;
            Interlocked.Decrement(ref gate.all);
            gate.LeaveKey(keyId);
        }
    }
}
