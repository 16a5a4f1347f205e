namespace FleetLight.Electrics;

/// <summary>How drift is looked for. The defaults are common practice without a source unless one is named.</summary>
public sealed record DriftOptions
{
    /// <summary>The stated defaults.</summary>
    public static DriftOptions Default { get; } = new();

    /// <summary>Confidence of every interval, 0.5 to 0.999.</summary>
    public double Confidence { get; init; } = 0.95;

    /// <summary>
    /// How often a sound series may be said to change at one look, 0.0001 to 0.2. The tests measure what is held.
    /// </summary>
    public double FalseAlarmRate { get; init; } = 0.01;

    /// <summary>Fewest visits from which anything is said, 5 to 100.</summary>
    public int LeastVisits { get; init; } = 6;

    /// <summary>Shortest span from first to last reading from which anything is said, days, 1 to 3,650.</summary>
    public double LeastSpanDays { get; init; } = 90;

    /// <summary>
    /// Readings up to this long after the first of a visit belong to it, days, 0 to 30: they share the weather and
    /// count, for each meter, as one.
    /// </summary>
    public double VisitDays { get; init; } = 3;

    /// <summary>How long before a limit may be crossed a visit must be planned, days, 0 to 3,650.</summary>
    public double LeadDays { get; init; } = 60;

    /// <summary>
    /// A slow change that is likely to cross a limit within so many days asks for a visit though the earliest crossing
    /// is further off than the lead: what goes bad often goes bad faster and faster. Days, 0 to 3,650.
    /// </summary>
    public double HorizonDays { get; init; } = 365;

    /// <summary>
    /// A step smaller than this share of the way from the level before it to the limit that it goes towards is told but
    /// asks for no visit, 0 to 1.
    /// </summary>
    public double MaterialShare { get; init; } = 0.2;

    /// <summary>
    /// Half the yearly swing of the temperature about the fittings that is allowed for where no temperature is recorded,
    /// K, 0 to 40.
    /// </summary>
    public double SeasonKelvin { get; init; } = 8;

    /// <summary>
    /// Standard deviation of a day's temperature about the season's, K, 0 to 20: what a reading is taken to scatter by
    /// until the series itself shows it.
    /// </summary>
    public double WeatherKelvin { get; init; } = 2.5;

    /// <summary>
    /// Temperature that readings with a recorded temperature are brought to, °C; null for 20, or for loop resistance
    /// what <see cref="Assumptions.Buried"/> says.
    /// </summary>
    public double? ReferenceCelsius { get; init; }

    /// <summary>Allowance of the CUSUM chart, standard deviations, 0 to 3.</summary>
    public double CusumAllowance { get; init; } = 0.5;

    /// <summary>
    /// Decision interval of the CUSUM chart, standard deviations, 0.5 to 20. Allowance 0.5 and interval 5 signal once in
    /// 465 sound points (Montgomery, Introduction to Statistical Quality Control, section 9.1).
    /// </summary>
    public double CusumDecision { get; init; } = 5;

    /// <summary>Weight of the newest point in the EWMA chart, 0.01 to 1.</summary>
    public double EwmaWeight { get; init; } = 0.2;

    /// <summary>
    /// Width of the EWMA chart's limits, standard deviations, 0.5 to 10. Weight 0.2 and width 2.962 signal once in 500
    /// sound points (Lucas and Saccucci, Technometrics 32, 1990; from memory).
    /// </summary>
    public double EwmaWidth { get; init; } = 2.962;

    // A figure outside its range counts as the nearest end of it, one that is no number as the default.
    internal DriftOptions Sane() => this with
    {
        Confidence = In(Confidence, 0.5, 0.999, Default.Confidence),
        FalseAlarmRate = In(FalseAlarmRate, 0.0001, 0.2, Default.FalseAlarmRate),
        LeastVisits = Math.Clamp(LeastVisits, 5, 100),
        LeastSpanDays = In(LeastSpanDays, 1, 3650, Default.LeastSpanDays),
        VisitDays = In(VisitDays, 0, 30, Default.VisitDays),
        LeadDays = In(LeadDays, 0, 3650, Default.LeadDays),
        HorizonDays = In(HorizonDays, 0, 3650, Default.HorizonDays),
        MaterialShare = In(MaterialShare, 0, 1, Default.MaterialShare),
        SeasonKelvin = In(SeasonKelvin, 0, 40, Default.SeasonKelvin),
        WeatherKelvin = In(WeatherKelvin, 0, 20, Default.WeatherKelvin),
        ReferenceCelsius = ReferenceCelsius is { } celsius ? In(celsius, -60, 150, 20) : null,
        CusumAllowance = In(CusumAllowance, 0, 3, Default.CusumAllowance),
        CusumDecision = In(CusumDecision, 0.5, 20, Default.CusumDecision),
        EwmaWeight = In(EwmaWeight, 0.01, 1, Default.EwmaWeight),
        EwmaWidth = In(EwmaWidth, 0.5, 10, Default.EwmaWidth),
    };

    /// <summary>How much of itself a reading of the quantity changes per kelvin, 1/K.</summary>
    /// <remarks>
    /// Volts: an LED's forward voltage (Khanna, eq. 14.1, as in <see cref="Assumptions"/>). Loop resistance: copper
    /// (IEC 60028). Insulation: it halves with every 10 K (IEEE Std 43, from memory). Milliamps: a driver's own
    /// coefficient, common practice, no source.
    /// </remarks>
    internal static double SharePerKelvin(MeasuredQuantity quantity) => quantity switch
    {
        MeasuredQuantity.LoopOhms => ConductorResistance.CopperCoefficientPerKelvin,
        MeasuredQuantity.MegohmsInsulation => -0.0693147,
        MeasuredQuantity.Milliamps => -0.0003,
        _ => Assumptions.Default.ForwardVoltsPerKelvinPerVolt,
    };

    // How uncertain that figure itself is, as a share: −2 to −4 mV/K is stated for LEDs (about −3, rectangular); copper
    // is known, the temperature of a whole loop from one reading less so.
    internal static double SharePerKelvinUncertainty(MeasuredQuantity quantity) =>
        quantity == MeasuredQuantity.LoopOhms ? 0.1 : 0.2;

    private static double In(double value, double least, double most, double otherwise) =>
        double.IsNaN(value) ? otherwise : Math.Clamp(value, least, most);
}
