namespace FleetLight.Field.Measuring;

/// <summary>
/// Goes through long work in slices: a page in a browser has one thread, and between two slices it answers the finger.
/// </summary>
public static class Slices
{
    // Three pictures of a screen that shows 60 a second: a key that is pressed meanwhile is answered before anybody notices.
    private static readonly TimeSpan Slice = TimeSpan.FromMilliseconds(50);

    /// <summary>Goes through all steps; answers the last.</summary>
    /// <param name="steps">The work, as its steps are gone through.</param>
    /// <param name="clock">By which slices are timed.</param>
    /// <param name="cancel">Gives the work up between two steps.</param>
    public static async Task<T?> LastAsync<T>(IEnumerable<T> steps, TimeProvider clock, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(steps);
        ArgumentNullException.ThrowIfNull(clock);
        var last = default(T);
        // What is shown already gets onto the screen first.
        await Task.Delay(TimeSpan.FromMilliseconds(1), clock, cancel);
        var began = clock.GetTimestamp();
        foreach (var step in steps)
        {
            last = step;
            if (clock.GetElapsedTime(began) < Slice) continue;
            await Task.Delay(TimeSpan.FromMilliseconds(1), clock, cancel);
            began = clock.GetTimestamp();
        }

        return last;
    }
}
