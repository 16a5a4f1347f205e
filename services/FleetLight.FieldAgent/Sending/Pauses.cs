namespace FleetLight.FieldAgent.Sending;

/// <summary>How long the sender rests. Pure.</summary>
internal static class Pauses
{
    private static readonly TimeSpan First = TimeSpan.FromSeconds(1);

    /// <summary>
    /// The rest after failures in a row: it doubles up to a limit and is drawn from its upper half; never less than the service
    /// asked for.
    /// </summary>
    /// <param name="failures">Number of failures in a row, 1 or more.</param>
    /// <param name="asked">What the service asked for.</param>
    /// <param name="longest">The limit.</param>
    /// <param name="chance">A draw from 0 to 1.</param>
    public static TimeSpan After(int failures, TimeSpan? asked, TimeSpan longest, double chance)
    {
        var grown = First * Math.Pow(2, Math.Clamp(failures - 1, 0, 20));
        var drawn = (grown < longest ? grown : longest) * (0.5 + (0.5 * chance));
        return asked is { } least && least + (0.25 * chance * least) is var later && later > drawn ? later : drawn;
    }
}
