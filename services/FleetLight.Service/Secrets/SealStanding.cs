using System.Collections.Concurrent;

namespace FleetLight.Service.Secrets;

/// <summary>How it stands with the secrets that this node should be able to open; the health check says it.</summary>
public sealed class SealStanding(SecretSeal seal)
{
    private readonly ConcurrentDictionary<string, bool> closed = new(StringComparer.Ordinal);

    /// <summary>Whether the secret of that receiver could be opened here.</summary>
    public void Saw(string owner, bool isOpen)
    {
        if (isOpen) closed.TryRemove(owner, out _);
        else closed[owner] = true;
    }

    /// <summary>The receiver is no more.</summary>
    public void Forget(string owner) => closed.TryRemove(owner, out _);

    /// <summary>What is missing, in plain words.</summary>
    public string[] Missing() => closed.IsEmpty
        ? []
        : [$"{closed.Count} webhook{(closed.Count == 1 ? "" : "s")} cannot be told by this node: it does not have the master secret that sealed "
            + "what signs (Webhooks__MasterSecret)."];

    /// <summary>What whoever runs the service should know.</summary>
    public string[] Notes() => seal.Keys.IsOwn
        ? [$"What signs webhooks is sealed with a secret that this node made for itself ({MasterSecret.FileName} in its data folder): keep it with the "
            + "back-ups. Where there are several nodes, set Webhooks__MasterSecret to the same on all of them."]
        : [];
}
