namespace FleetLight.Electrics;

/// <summary>How a circuit's voltage stands to the limits of extra-low voltage. Advice, never a certificate.</summary>
public enum TouchClass
{
    /// <summary>SELV or PELV up to 12 V AC or 30 V DC: basic protection is not needed even where wet.</summary>
    BareWhereWet,

    /// <summary>SELV or PELV up to 25 V AC or 60 V DC: basic protection is not needed where normally dry.</summary>
    BareWhereDry,

    /// <summary>Extra-low voltage, up to 50 V AC or 120 V DC, with basic protection everywhere.</summary>
    NeedsBasicProtection,

    /// <summary>Above extra-low voltage.</summary>
    AboveExtraLowVoltage,

    /// <summary>The voltage is not known or not a number.</summary>
    Unknown,
}

/// <summary>A circuit's touch class with what it rests on.</summary>
/// <param name="Class">The class.</param>
/// <param name="VoltsDc">The voltage that decided it, V DC; null where unknown.</param>
/// <param name="Basis">Which of the driver's voltages that was.</param>
/// <param name="Text">The same in plain words.</param>
/// <param name="Source">The published source of the limits.</param>
public sealed record TouchAssessment(
    TouchClass Class, double? VoltsDc, VoltageBasis Basis, string Text, string Source);

/// <summary>Which voltage an assessment rests on.</summary>
public enum VoltageBasis
{
    /// <summary>The open-circuit voltage, which is the one that counts.</summary>
    OpenCircuitVolts,

    /// <summary>The greatest regulated voltage; the open-circuit voltage may be higher.</summary>
    MostVolts,

    /// <summary>The rated voltage; the open-circuit voltage may be higher.</summary>
    RatedVolts,

    /// <summary>None is recorded.</summary>
    None,
}

/// <summary>Limits of extra-low voltage and of touch without basic protection.</summary>
/// <remarks>
/// Product standards set other figures for the same words (42.4 V peak, for one); these are of the installation
/// standard and hold for ripple-free direct voltage. Its parts for special places go further: in the zones of a pool
/// (IEC 60364-7-702) basic protection is asked for whatever the voltage. For bare parts of class III luminaires IEC
/// 60598-1:2008 clause 8.2.3 has the same 60 V DC, and 30 V DC for those that are not for ordinary use.
/// </remarks>
public static class ExtraLowVoltage
{
    /// <summary>Greatest extra-low direct voltage, V (IEC 61140).</summary>
    public const double MostVoltsDc = 120;

    /// <summary>Greatest extra-low alternating voltage, V r.m.s. (IEC 61140).</summary>
    public const double MostVoltsAc = 50;

    /// <summary>
    /// Greatest direct voltage without basic protection where dry, V (IEC 60364-4-41 clause 414.4.5).
    /// </summary>
    public const double BareDryVoltsDc = 60;

    /// <summary>Greatest alternating voltage without basic protection where dry, V r.m.s. (same clause).</summary>
    public const double BareDryVoltsAc = 25;

    /// <summary>Greatest direct voltage without basic protection elsewhere, V (same clause).</summary>
    public const double BareWetVoltsDc = 30;

    /// <summary>Greatest alternating voltage without basic protection elsewhere, V r.m.s. (same clause).</summary>
    public const double BareWetVoltsAc = 12;

    /// <summary>
    /// Greatest ripple of a voltage that counts as ripple-free, r.m.s. as % of the direct voltage (IEC 61558-1,
    /// definition of extra-low voltage).
    /// </summary>
    public const double MostRipplePercent = 10;

    /// <summary>Greatest peak of a ripple-free voltage of 120 V nominal, V (same).</summary>
    public const double MostPeakAt120Volts = 140;

    /// <summary>Greatest peak of a ripple-free voltage of 60 V nominal, V (same).</summary>
    public const double MostPeakAt60Volts = 70;

    /// <summary>Where the limits are published.</summary>
    public const string Source = "IEC 61140; IEC 60364-4-41 clause 414.4.5";

    /// <summary>Class of a ripple-free direct voltage.</summary>
    /// <param name="volts">V DC; its sign does not matter.</param>
    public static TouchClass ClassOfDc(double volts) =>
        Classify(Math.Abs(volts), BareWetVoltsDc, BareDryVoltsDc, MostVoltsDc);

    /// <summary>Class of an alternating voltage.</summary>
    /// <param name="volts">V r.m.s.</param>
    public static TouchClass ClassOfAc(double volts) =>
        Classify(Math.Abs(volts), BareWetVoltsAc, BareDryVoltsAc, MostVoltsAc);

    /// <summary>
    /// Whether a voltage counts as ripple-free, so that the limits of direct voltage hold for it. Where it does not,
    /// those of alternating voltage are the cautious choice.
    /// </summary>
    /// <param name="voltsDc">Direct voltage, V; above 0 to 1,500.</param>
    /// <param name="rippleVoltsRms">Ripple, V r.m.s.; 0 to 1,500.</param>
    /// <param name="peakVolts">Greatest peak, V; null where it was not measured.</param>
    /// <returns>Null where a figure is out of range.</returns>
    /// <remarks>The peak is held against 7/6 of the direct voltage, which is what both published peaks are.</remarks>
    public static bool? IsRippleFree(double voltsDc, double rippleVoltsRms, double? peakVolts = null)
    {
        if (!(voltsDc is > 0 and <= 1500) || !(rippleVoltsRms is >= 0 and <= 1500)) return null;
        if (peakVolts is { } peak && !(peak is >= 0 and <= 10_000)) return null;
        return rippleVoltsRms <= voltsDc * MostRipplePercent / 100
            && !(peakVolts > voltsDc * MostPeakAt60Volts / BareDryVoltsDc);
    }

    /// <summary>
    /// Class of a circuit by its driver: by the open-circuit voltage if known, because that is what an open loop shows.
    /// </summary>
    public static TouchAssessment Assess(DriverModel? driver)
    {
        var (volts, basis) = driver switch
        {
            { OpenCircuitVolts: { } open } => (open, VoltageBasis.OpenCircuitVolts),
            { MostVolts: { } most } => (most, VoltageBasis.MostVolts),
            { RatedVolts: { } rated } => (rated, VoltageBasis.RatedVolts),
            _ => (double.NaN, VoltageBasis.None),
        };
        var touch = ClassOfDc(volts);
        return new TouchAssessment(touch, double.IsFinite(volts) ? volts : null, basis, Text(touch, basis), Source);
    }

    private static TouchClass Classify(double volts, double wet, double dry, double most) => volts switch
    {
        _ when !double.IsFinite(volts) => TouchClass.Unknown,
        _ when volts <= wet => TouchClass.BareWhereWet,
        _ when volts <= dry => TouchClass.BareWhereDry,
        _ when volts <= most => TouchClass.NeedsBasicProtection,
        _ => TouchClass.AboveExtraLowVoltage,
    };

    private static string Text(TouchClass touch, VoltageBasis basis)
    {
        var text = touch switch
        {
            TouchClass.BareWhereWet => "At most 30 V DC: within the limit for bare SELV parts where wet or buried.",
            TouchClass.BareWhereDry =>
                "At most 60 V DC: within the limit for bare SELV parts where dry; elsewhere they need protection.",
            TouchClass.NeedsBasicProtection =>
                "Extra-low voltage above 60 V DC: live parts need basic protection everywhere.",
            TouchClass.AboveExtraLowVoltage => "Above 120 V DC: not extra-low voltage.",
            _ => "The driver's voltage is not recorded.",
        };
        return basis is VoltageBasis.MostVolts or VoltageBasis.RatedVolts
            ? text + " Open circuit the driver may give more: record its open-circuit voltage."
            : text;
    }
}
