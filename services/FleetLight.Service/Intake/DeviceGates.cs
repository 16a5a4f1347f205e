using System.Collections.Concurrent;

namespace FleetLight.Service.Intake;

/// <summary>
/// Lets one batch of a device through at a time on this node, so that a device which sends twice waits here and does not
/// hold a database connection while it waits for its own row.
/// </summary>
public sealed class DeviceGates
{
    private readonly ConcurrentDictionary<(string, string), SemaphoreSlim> gates = new();

    /// <summary>Waits for the device's turn.</summary>
    public async Task<IDisposable> EnterAsync(string organisation, string source, CancellationToken cancel)
    {
        var gate = gates.GetOrAdd((organisation, source), _ => new SemaphoreSlim(1, 1));
        await gate.WaitAsync(cancel);
        return new Turn(gate);
    }

    private sealed class Turn(SemaphoreSlim gate) : IDisposable
    {
        public void Dispose() => gate.Release();
    }
}
