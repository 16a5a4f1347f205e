using System.Diagnostics;

namespace FleetLight.Testing.Service;

/// <summary>Waits for what comes in its own time: looks again and again until it is there or the deadline has passed.</summary>
public static class Eventually
{
    /// <summary>Far more than anything should take; only a test that fails waits for it.</summary>
    public static readonly TimeSpan Deadline = TimeSpan.FromSeconds(60);

    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(20);

    /// <summary>What is read, as soon as it is as wanted.</summary>
    /// <param name="read">Reads it.</param>
    /// <param name="wanted">Whether it is as wanted.</param>
    /// <param name="what">What is waited for, in words.</param>
    /// <param name="within">How long at most, where <see cref="Deadline"/> is too little for so much.</param>
    public static async Task<T> ReadAsync<T>(Func<Task<T>> read, Func<T, bool> wanted, string what, TimeSpan? within = null)
    {
        TimeSpan most = within ?? Deadline;
        long began = Stopwatch.GetTimestamp();
        while (true)
        {
            T found = await read().ConfigureAwait(false);
            if (wanted(found)) return found;
            if (Stopwatch.GetElapsedTime(began) > most)
                throw new TimeoutException($"Waited {most.TotalSeconds:0} s for {what}; at the end there was: {found}");
            await Task.Delay(Between).ConfigureAwait(false);
        }
    }

    /// <summary>Waits until it is so.</summary>
    public static Task IsSoAsync(Func<Task<bool>> look, string what) => ReadAsync(look, found => found, what);

    /// <summary>Waits until it is so.</summary>
    public static Task IsSoAsync(Func<bool> look, string what) => IsSoAsync(() => Task.FromResult(look()), what);
}
