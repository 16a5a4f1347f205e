namespace FleetLight.Electrics;

/// <summary>How an installation is earthed.</summary>
public enum EarthingSystem
{
    /// <summary>By the supply's own protective conductor: TN.</summary>
    Tn,

    /// <summary>By an earth electrode of its own: TT.</summary>
    Tt,
}

/// <summary>Times within which a fault must be disconnected on the mains side, IEC 60364-4-41.</summary>
/// <remarks>
/// Table 41.1 holds for final circuits: up to 32 A in the edition of 2005; by its amendment of 2017 up to 63 A with
/// socket-outlets and 32 A for equipment that is fixed. Others, and distribution circuits, have 5 s (TN) and 1 s (TT),
/// and so has a highway power supply (5 s, IEC 60364-7-714 clause 714.411.202). Only alternating voltage is known here:
/// the figures for direct voltage differ between editions.
/// </remarks>
public static class DisconnectionTime
{
    /// <summary>Where the times are published.</summary>
    public const string Source = "IEC 60364-4-41:2005 table 41.1 and clause 411.3.2";

    /// <summary>
    /// Rated residual current of the device that IEC 60364-7-714 clause 714.411.3.4 asks for where the public can reach
    /// the lighting, mA; street lighting is excepted. Later amendments widen the list.
    /// </summary>
    public const double PublicLightingMilliamps = 30;

    private static readonly (double MostVolts, double Tn, double Tt)[] Table =
    [
        (120, 0.8, 0.3), (230, 0.4, 0.2), (400, 0.2, 0.07), (double.PositiveInfinity, 0.1, 0.04),
    ];

    /// <summary>The longest time, s; null where none is tabulated.</summary>
    /// <param name="system">How the installation is earthed.</param>
    /// <param name="voltsToEarth">Nominal line voltage to earth, V AC; above 50 to 1,000.</param>
    /// <param name="isFinalCircuit">Whether table 41.1 holds; otherwise the time of a distribution circuit
    /// does.</param>
    public static double? MostSeconds(EarthingSystem system, double voltsToEarth, bool isFinalCircuit = true)
    {
        if (!(voltsToEarth is > ExtraLowVoltage.MostVoltsAc and <= 1000)) return null;
        if (system is not (EarthingSystem.Tn or EarthingSystem.Tt)) return null;
        if (!isFinalCircuit) return system == EarthingSystem.Tn ? 5 : 1;
        foreach (var (most, tn, tt) in Table)
            if (voltsToEarth <= most) return system == EarthingSystem.Tn ? tn : tt;
        return null;
    }

    /// <summary>Compares a time measured at the prospective fault current with the longest one.</summary>
    /// <param name="system">How the installation is earthed.</param>
    /// <param name="voltsToEarth">Nominal line voltage to earth, V AC; above 50 to 1,000.</param>
    /// <param name="milliseconds">Measured time, ms; 0 or more, infinity where it did not disconnect.</param>
    /// <param name="isFinalCircuit">Whether table 41.1 holds.</param>
    public static TestJudgement Judge(
        EarthingSystem system, double voltsToEarth, double milliseconds, bool isFinalCircuit = true)
    {
        if (MostSeconds(system, voltsToEarth, isFinalCircuit) is not { } most)
            return TestJudgement.Unusable("No time is tabulated for this voltage and earthing.", Source);
        if (!(milliseconds >= 0)) return TestJudgement.Unusable("The result is not a time.", Source);
        var within = milliseconds <= 1000 * most;
        return new TestJudgement(
            within ? VerdictKind.Within : VerdictKind.Outside,
            within
                ? $"Within the {Plain.Figure(1000 * most)} ms of such a circuit."
                : $"Slower than the {Plain.Figure(1000 * most)} ms of such a circuit: it must not stay energised.",
            Source)
        {
            Limit = 1000 * most,
        };
    }
}
