namespace FleetLight.Electrics;

/// <summary>The least insulation resistance of a circuit and the voltage to measure it with.</summary>
/// <param name="TestVoltsDc">Test voltage, V DC.</param>
/// <param name="LeastMegohms">Least insulation resistance, MΩ.</param>
public sealed record InsulationRequirement(double TestVoltsDc, double LeastMegohms)
{
    /// <summary>Where it is published, with the edition.</summary>
    public string Source { get; init; } = InsulationResistance.Source;
}

/// <summary>Insulation resistance against IEC 60364-6:2016 table 6.1.</summary>
/// <remarks>
/// An installation is held against the edition it was built by, and older ones ask for less: the 16th edition of BS
/// 7671, for one, for 0.25 MΩ on SELV and 0.5 MΩ up to 500 V. This library knows the values of 2016 only, which are
/// those of table 6A of the 2006 edition too.
/// </remarks>
public static class InsulationResistance
{
    /// <summary>Where the values are published. Older editions and national rules have lower ones.</summary>
    public const string Source = "IEC 60364-6:2016 table 6.1";

    /// <summary>Where the test between SELV and mains is asked for; its least value is from memory.</summary>
    public const string SeparationSource = "IEC 60364-6:2016 clause 6.4.3.4 with table 6.1";

    /// <summary>
    /// Test voltage where electronics cannot be disconnected, live conductors joined, against earth, V DC (BS 7671:2018
    /// regulation 643.3.3).
    /// </summary>
    public const double ReducedTestVolts = 250;

    /// <summary>
    /// Least current that the tester gives at its nominal voltage, mA (IEC 61557-2).
    /// </summary>
    public const double LeastTesterMilliamps = 1;

    /// <summary>
    /// Below this a result that reaches the minimum is still worth looking into, MΩ (IET Guidance Note 3); for circuits
    /// above extra-low voltage.
    /// </summary>
    public const double LookIntoBelowMegohms = 2;

    /// <summary>The requirement for a circuit, or null where the voltage is not a number above 0 to 1,500 V.</summary>
    /// <param name="nominalVolts">Nominal voltage, V.</param>
    /// <param name="isSelvOrPelv">Whether the circuit is SELV or PELV.</param>
    public static InsulationRequirement? For(double nominalVolts, bool isSelvOrPelv) => nominalVolts switch
    {
        not (> 0 and <= 1500) => null,
        <= ExtraLowVoltage.MostVoltsDc when isSelvOrPelv => new(250, 0.5),
        <= 500 => new(500, 1.0),
        _ => new(1000, 1.0),
    };

    /// <summary>
    /// The requirement between an SELV or PELV circuit and live parts of the mains: that of the mains circuit. Null
    /// where the voltage is not a number above 0 to 1,500 V.
    /// </summary>
    /// <param name="mainsVolts">Nominal voltage of the mains circuit, V.</param>
    public static InsulationRequirement? BetweenExtraLowVoltageAndMains(double mainsVolts) =>
        For(mainsVolts, false) is { } mains ? mains with { Source = SeparationSource } : null;

    /// <summary>Compares a result between an SELV or PELV circuit and the mains with the requirement.</summary>
    /// <param name="mainsVolts">Nominal voltage of the mains circuit, V; above 0 to 1,500.</param>
    /// <param name="megohms">The result, MΩ; 0 or more, infinity for a reading beyond the range.</param>
    /// <param name="meter">The meter's accuracy; the stated default if null.</param>
    public static TestJudgement JudgeSeparation(double mainsVolts, double megohms, MeterAccuracy? meter = null) =>
        Judge(BetweenExtraLowVoltageAndMains(mainsVolts), SeparationSource, megohms, meter);

    /// <summary>Compares a result with the requirement.</summary>
    /// <param name="nominalVolts">Nominal voltage of the circuit, V; above 0 to 1,500.</param>
    /// <param name="isSelvOrPelv">Whether the circuit is SELV or PELV.</param>
    /// <param name="megohms">The result, MΩ; 0 or more, infinity for a reading beyond the range.</param>
    /// <param name="meter">The meter's accuracy; the stated default if null.</param>
    public static TestJudgement Judge(
        double nominalVolts, bool isSelvOrPelv, double megohms, MeterAccuracy? meter = null) =>
        Judge(For(nominalVolts, isSelvOrPelv), Source, megohms, meter);

    private static TestJudgement Judge(
        InsulationRequirement? asked, string source, double megohms, MeterAccuracy? meter)
    {
        if (asked is not { } requirement)
            return TestJudgement.Unusable("The circuit's nominal voltage is not known.", source);
        var accuracy = meter ?? MeterAccuracy.DefaultFor(MeasuredQuantity.MegohmsInsulation);
        if (!(megohms >= 0) || !accuracy.IsValid)
            return TestJudgement.Unusable(TestJudgement.NoResistance, source);
        var least = requirement.LeastMegohms;
        var off = double.IsFinite(megohms) ? accuracy.LimitAt(megohms) : 0;
        var kind = megohms - off >= least ? VerdictKind.Within
            : megohms >= least ? VerdictKind.Doubtful
            : VerdictKind.Outside;
        return new TestJudgement(kind, Text(kind, megohms, requirement), source) { Limit = least };
    }

    private static string Text(VerdictKind kind, double megohms, InsulationRequirement requirement)
    {
        var against = $"at {Plain.Figure(requirement.TestVoltsDc)} V DC the least is "
            + $"{Plain.Figure(requirement.LeastMegohms)} MΩ";
        return kind switch
        {
            VerdictKind.Within when megohms < LookIntoBelowMegohms && requirement.LeastMegohms >= 1 =>
                $"Reaches the minimum ({against}); below {LookIntoBelowMegohms} MΩ it is worth looking into.",
            VerdictKind.Within => $"Reaches the minimum: {against}.",
            VerdictKind.Doubtful => $"Reaches the minimum only if the meter is right: {against}. Measure again.",
            _ => $"Below the minimum: {against}.",
        };
    }
}
