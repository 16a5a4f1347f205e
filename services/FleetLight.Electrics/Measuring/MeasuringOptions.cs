namespace FleetLight.Electrics;

/// <summary>When to stop measuring, and what measuring takes.</summary>
public sealed record MeasuringOptions
{
    /// <summary>The stated defaults.</summary>
    public static MeasuringOptions Default { get; } = new();

    /// <summary>Measuring ends where one explanation is at least this likely; above 0.5 to below 1.</summary>
    public double EnoughProbability { get; init; } = 0.95;

    /// <summary>
    /// Measuring ends where nothing is expected to tell more than this; bits per hour of work, 0 or more.
    /// </summary>
    public double LeastBitsPerHour { get; init; } = 0.2;

    /// <summary>How long everything takes.</summary>
    public MeasuringEffort Effort { get; init; } = MeasuringEffort.Default;

    /// <summary>What the diagnosis looks for.</summary>
    public DiagnosisOptions Diagnosis { get; init; } = DiagnosisOptions.Default;

    internal MeasuringOptions Sane() => this with
    {
        EnoughProbability = EnoughProbability is > 0.5 and < 1 ? EnoughProbability : Default.EnoughProbability,
        LeastBitsPerHour = LeastBitsPerHour is >= 0 and <= 1e6 ? LeastBitsPerHour : Default.LeastBitsPerHour,
        Effort = (Effort ?? MeasuringEffort.Default).Sane(),
        Diagnosis = Diagnosis ?? DiagnosisOptions.Default,
    };
}

/// <summary>
/// What measuring takes, in minutes of one person; each 0 to 10,000, otherwise the default counts. Common practice, no
/// source; an organisation puts its own figures here.
/// </summary>
public sealed record MeasuringEffort
{
    private const double MostMinutes = 10_000;

    /// <summary>The stated defaults.</summary>
    public static MeasuringEffort Default { get; } = new();

    /// <summary>To walk to a place and to write the reading down.</summary>
    public double WalkMinutes { get; init; } = 2;

    /// <summary>To open a box whose lid lies at the surface, and to close it again.</summary>
    public double OpenBoxMinutes { get; init; } = 5;

    /// <summary>To loosen or open a fitting, and to fix it again.</summary>
    public double OpenFittingMinutes { get; init; } = 8;

    /// <summary>To dig a box out, open it, and put everything back.</summary>
    public double DigMinutes { get; init; } = 40;

    /// <summary>To measure a voltage on conductors that are at hand.</summary>
    public double VoltsMinutes { get; init; } = 1;

    /// <summary>To measure a current: with a clamp, or by opening the loop with the driver off.</summary>
    public double MilliampsMinutes { get; init; } = 4;

    /// <summary>
    /// To switch the driver off, lock it off and prove it dead, and to switch it on again afterwards.
    /// </summary>
    public double IsolateMinutes { get; init; } = 6;

    /// <summary>To measure a resistance on a dead circuit.</summary>
    public double OhmsMinutes { get; init; } = 2;

    /// <summary>To bridge or disconnect one fitting for a test on the dead circuit, and to connect it again.</summary>
    public double BridgeFittingMinutes { get; init; } = 5;

    /// <summary>To see whether one fitting more is lit, on a walk past all of them.</summary>
    public double LookMinutes { get; init; } = 0.3;

    internal MeasuringEffort Sane() => new()
    {
        WalkMinutes = Sane(WalkMinutes, Default.WalkMinutes),
        OpenBoxMinutes = Sane(OpenBoxMinutes, Default.OpenBoxMinutes),
        OpenFittingMinutes = Sane(OpenFittingMinutes, Default.OpenFittingMinutes),
        DigMinutes = Sane(DigMinutes, Default.DigMinutes),
        VoltsMinutes = Sane(VoltsMinutes, Default.VoltsMinutes),
        MilliampsMinutes = Sane(MilliampsMinutes, Default.MilliampsMinutes),
        IsolateMinutes = Sane(IsolateMinutes, Default.IsolateMinutes),
        OhmsMinutes = Sane(OhmsMinutes, Default.OhmsMinutes),
        BridgeFittingMinutes = Sane(BridgeFittingMinutes, Default.BridgeFittingMinutes),
        LookMinutes = Sane(LookMinutes, Default.LookMinutes),
    };

    /// <summary>Minutes for one reading at a place, getting there and closing up included.</summary>
    internal double MinutesFor(MeasuringPlace place, MeasuredQuantity quantity, int fittings) =>
        WalkMinutes + AccessMinutes(place) + quantity switch
        {
            MeasuredQuantity.VoltsDc => VoltsMinutes,
            MeasuredQuantity.Milliamps => MilliampsMinutes,
            _ => IsolateMinutes + OhmsMinutes + (fittings * BridgeFittingMinutes),
        };

    /// <summary>Minutes to see which fittings are lit.</summary>
    internal double MinutesToLook(int fittings) => WalkMinutes + (fittings * LookMinutes);

    private double AccessMinutes(MeasuringPlace place)
    {
        if (place.IsOpen) return 0;
        if (place.EffortMinutes is >= 0 and <= MostMinutes and var stated) return stated;
        return place.Access switch
        {
            PlaceAccess.AtHand => 0,
            PlaceAccess.OpenToReach => OpenBoxMinutes,
            PlaceAccess.Fitting => OpenFittingMinutes,
            _ => DigMinutes,
        };
    }

    private static double Sane(double minutes, double otherwise) =>
        minutes is >= 0 and <= MostMinutes ? minutes : otherwise;
}
