namespace FleetLight.Electrics;

/// <summary>Time behaviour of a residual-current device.</summary>
public enum RcdKind
{
    /// <summary>General type, without delay.</summary>
    General,

    /// <summary>Selective type S, with delay.</summary>
    Selective,
}

/// <summary>Disconnection times of residual-current devices on the mains side.</summary>
/// <remarks>
/// These are the product standard's times for alternating residual current. How a device is tested on site is set by
/// the local code and changes: BS 7671:2018 amendment 2, for one, asks for fewer tests than the editions before it. The
/// time within which the circuit must be disconnected is another matter: see <see cref="DisconnectionTime"/>.
/// </remarks>
public static class RcdTime
{
    /// <summary>
    /// Where the times are published. Those at twice the rated residual current were read in testers' manuals only; the
    /// least time there, 60 ms of type S, is from memory.
    /// </summary>
    public const string Source = "IEC 61008-1:2010 and IEC 61009-1:2010, table of break times";

    /// <summary>The permitted times, ms, or null where none is tabulated for the multiple.</summary>
    /// <param name="kind">The device.</param>
    /// <param name="multiple">Test current as a multiple of the rated residual current: 1, 2 or 5.</param>
    /// <returns>Least and greatest time, ms; the least is 0 for the general type.</returns>
    public static (double LeastMilliseconds, double MostMilliseconds)? Permitted(RcdKind kind, int multiple) =>
        (kind, multiple) switch
        {
            (RcdKind.General, 1) => (0, 300),
            (RcdKind.General, 2) => (0, 150),
            (RcdKind.General, 5) => (0, 40),
            (RcdKind.Selective, 1) => (130, 500),
            (RcdKind.Selective, 2) => (60, 200),
            (RcdKind.Selective, 5) => (50, 150),
            _ => null,
        };

    /// <summary>
    /// What a test at half the rated residual current says: the device must hold (IEC 61008-1, residual non-operating
    /// current).
    /// </summary>
    /// <param name="disconnected">Whether it disconnected; null where that was not seen.</param>
    public static TestJudgement JudgeAtHalf(bool? disconnected) => disconnected switch
    {
        false => new(VerdictKind.Within, "It held at half the rated residual current.", Source),
        true => new(
            VerdictKind.Outside,
            "It disconnected at half the rated residual current: the device or a leakage of the installation.",
            Source),
        _ => TestJudgement.Unusable("Whether it held was not recorded.", Source),
    };

    /// <summary>Compares a measured disconnection time with the permitted one.</summary>
    /// <param name="kind">The device.</param>
    /// <param name="multiple">Test current as a multiple of the rated residual current: 1, 2 or 5.</param>
    /// <param name="milliseconds">Measured time, ms; 0 or more, infinity where it did not disconnect.</param>
    public static TestJudgement Judge(RcdKind kind, int multiple, double milliseconds)
    {
        if (Permitted(kind, multiple) is not var (least, most))
            return TestJudgement.Unusable("No time is tabulated for this device and test current.", Source);
        if (!(milliseconds >= 0)) return TestJudgement.Unusable("The result is not a time.", Source);
        if (milliseconds > most)
        {
            return new TestJudgement(
                VerdictKind.Outside,
                $"Slower than the {Plain.Figure(most)} ms permitted at {multiple} times rated.",
                Source)
            {
                Limit = most,
            };
        }

        return milliseconds < least
            ? new TestJudgement(
                VerdictKind.Doubtful,
                $"Faster than the {Plain.Figure(least)} ms that a selective device waits: check which type it is.",
                Source)
            {
                Limit = least,
            }
            : new TestJudgement(VerdictKind.Within, $"Within the {Plain.Figure(most)} ms permitted.", Source)
            {
                Limit = most,
            };
    }
}
