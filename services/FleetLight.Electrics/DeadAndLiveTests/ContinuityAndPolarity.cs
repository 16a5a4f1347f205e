using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>What a polarity test found.</summary>
public enum PolarityFinding
{
    /// <summary>Every core carries the polarity it is marked for.</summary>
    AsMarked,

    /// <summary>Two cores are exchanged.</summary>
    Reversed,

    /// <summary>It could not be determined.</summary>
    NotDetermined,
}

/// <summary>Continuity of a conductor and polarity of a circuit.</summary>
public static class ContinuityAndPolarity
{
    /// <summary>Where the tests are called for, and where the resistance comes from.</summary>
    public const string ContinuitySource =
        "IEC 60364-6:2016 clause 6.4.3.2; IEC 60228 and IEC 60028 for the resistance";

    /// <summary>Where the polarity test is called for.</summary>
    public const string PolaritySource = "IEC 60364-6:2016 clause 6.4.3.6";

    /// <summary>Least current of a continuity tester, mA (IEC 61557-4).</summary>
    public const double LeastTesterMilliamps = 200;

    /// <summary>Least open-circuit voltage of a continuity tester, V (IEC 61557-4; from memory).</summary>
    public const double LeastTesterVolts = 4;

    /// <summary>Greatest open-circuit voltage of a continuity tester, V (IEC 61557-4).</summary>
    public const double MostTesterVolts = 24;

    /// <summary>
    /// Resistance that test leads and clips may add where they were not nulled, Ω: common practice, no source.
    /// </summary>
    public const double LeadOhms = 0.5;

    // A sound conductor lies up to 7 % below the maximum of its class; two thirds of it is another conductor.
    private const double LowShare = 2.0 / 3;

    /// <summary>
    /// Compares the resistance of one copper conductor, end to end, with the greatest that it can have.
    /// </summary>
    /// <param name="ohms">The result, Ω; 0 or more, infinity where open.</param>
    /// <param name="lengthMetres">Length of the conductor, m; 0 to 100,000.</param>
    /// <param name="areaSquareMillimetres">Conductor area, a standard one, mm².</param>
    /// <param name="conductorClass">Conductor class.</param>
    /// <param name="celsius">Conductor temperature, °C; −60 to 150.</param>
    /// <param name="meter">The meter's accuracy; the stated default if null.</param>
    public static TestJudgement JudgeContinuity(
        double ohms, double lengthMetres, double areaSquareMillimetres, ConductorClass conductorClass,
        double celsius = ConductorResistance.ReferenceCelsius, MeterAccuracy? meter = null) =>
        Judge(ohms, MostOhms(lengthMetres, areaSquareMillimetres, conductorClass, celsius), meter);

    /// <summary>
    /// Compares the resistance of a line and its protective conductor in series (R1 + R2, joined at the far end) with
    /// the greatest that they can have.
    /// </summary>
    /// <param name="ohms">The result, Ω; 0 or more, infinity where open.</param>
    /// <param name="lengthMetres">Length of the cable, m; 0 to 100,000.</param>
    /// <param name="lineSquareMillimetres">Area of the line conductor, a standard one, mm².</param>
    /// <param name="protectiveSquareMillimetres">Area of the protective conductor, a standard one, mm².</param>
    /// <param name="conductorClass">Conductor class of both.</param>
    /// <param name="celsius">Conductor temperature, °C; −60 to 150.</param>
    /// <param name="meter">The meter's accuracy; the stated default if null.</param>
    public static TestJudgement JudgeLineAndProtective(
        double ohms, double lengthMetres, double lineSquareMillimetres, double protectiveSquareMillimetres,
        ConductorClass conductorClass, double celsius = ConductorResistance.ReferenceCelsius,
        MeterAccuracy? meter = null)
    {
        var line = MostOhms(lengthMetres, lineSquareMillimetres, conductorClass, celsius);
        var protective = MostOhms(lengthMetres, protectiveSquareMillimetres, conductorClass, celsius);
        return Judge(ohms, line + protective, meter);
    }

    /// <summary>The greatest resistance of one copper conductor, end to end, Ω (IEC 60228, IEC 60028).</summary>
    /// <param name="lengthMetres">Length of the conductor, m; 0 to 100,000.</param>
    /// <param name="areaSquareMillimetres">Conductor area, a standard one, mm².</param>
    /// <param name="conductorClass">Conductor class.</param>
    /// <param name="celsius">Conductor temperature, °C; −60 to 150.</param>
    /// <returns>Null where an input is out of range.</returns>
    public static double? MostOhms(
        double lengthMetres, double areaSquareMillimetres, ConductorClass conductorClass,
        double celsius = ConductorResistance.ReferenceCelsius) =>
        lengthMetres is >= 0 and <= 100_000 && celsius is >= -60 and <= 150
        && ConductorResistance.TryOhmsPerKilometreAt20(conductorClass, areaSquareMillimetres, out var perKilometre)
            ? ConductorResistance.AtTemperature(perKilometre, celsius) * lengthMetres / 1000
            : null;

    private static TestJudgement Judge(double ohms, double? expected, MeterAccuracy? meter)
    {
        var accuracy = meter ?? MeterAccuracy.DefaultFor(MeasuredQuantity.LoopOhms);
        if (!(ohms >= 0) || !accuracy.IsValid)
            return TestJudgement.Unusable(TestJudgement.NoResistance, ContinuitySource);
        if (expected is not { } most)
        {
            return TestJudgement.Unusable(
                "The conductor's area, length or temperature is not known or out of range.", ContinuitySource);
        }

        var off = double.IsFinite(ohms) ? accuracy.LimitAt(ohms) : 0;
        var kind = ohms <= most + off ? VerdictKind.Within
            : ohms <= most + off + LeadOhms ? VerdictKind.Doubtful
            : VerdictKind.Outside;
        var text = kind switch
        {
            VerdictKind.Within when ohms + off < LowShare * most =>
                $"Continuous, but less than the {Plain.Figure(most)} Ω of the conductor: another path lies in "
                + "parallel, or the conductor is shorter or thicker than recorded.",
            VerdictKind.Within => $"Continuous: the conductor may have up to {Plain.Figure(most)} Ω.",
            VerdictKind.Doubtful =>
                $"More than the {Plain.Figure(most)} Ω of the conductor: null the leads and measure again.",
            _ => $"More than the {Plain.Figure(most)} Ω of the conductor: a joint or the record is wrong.",
        };
        return new TestJudgement(kind, text, ContinuitySource) { Limit = most };
    }

    /// <summary>What a polarity finding says.</summary>
    public static TestJudgement JudgePolarity(PolarityFinding finding) => finding switch
    {
        PolarityFinding.AsMarked => new(VerdictKind.Within, "Polarity is as marked.", PolaritySource),
        PolarityFinding.Reversed => new(
            VerdictKind.Outside,
            "Polarity is reversed: an LED fitting does not light and may be destroyed; correct it before energising.",
            PolaritySource),
        _ => TestJudgement.Unusable("Polarity was not determined.", PolaritySource),
    };
}
