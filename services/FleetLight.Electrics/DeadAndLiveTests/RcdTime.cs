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
public static class RcdTime
{
    /// <summary>Where the times are published; those at twice the rated residual current are from memory.</summary>
    public const string Source = "IEC 61008-1 and IEC 61009-1";

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
