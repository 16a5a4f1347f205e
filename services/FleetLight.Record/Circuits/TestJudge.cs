using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Circuits;

/// <summary>
/// Holds the figures of a test against the value that its standard names. Advice, never a certificate.
/// </summary>
public static class TestJudge
{
    // Extra-low voltage by alternating current ends here (IEC 61140): a test at or below it is on the output side.
    private const double MostExtraLowNominalVolts = ExtraLowVoltage.MostVoltsAc;

    /// <summary>What is made of a test.</summary>
    /// <param name="test">The test.</param>
    /// <param name="happenedAt">When it was made.</param>
    public static TestView Judge(TestMade test, DateTimeOffset happenedAt)
    {
        var (meets, says) = test.Test switch
        {
            TestKind.InsulationResistance => Insulation(test),
            TestKind.Polarity => Polarity(test),
            TestKind.ResidualCurrentDevice => TripTime(test),
            _ => Continuity(test),
        };
        return new TestView
        {
            Test = test.Test,
            MainsSide = test.MainsSide,
            HappenedAt = happenedAt,
            Meets = meets,
            Says = $"{says} {TestJudgement.CautionText}",
        };
    }

    /// <summary>Whether a tested circuit counts as one of extra-low voltage.</summary>
    internal static bool IsExtraLow(double nominalVolts, bool mainsSide) => nominalVolts <= MostExtraLowNominalVolts || !mainsSide;

    private static (bool? Meets, string Says) Insulation(TestMade test)
    {
        if (test.NominalVolts is not { } nominal || test.Megohms is not { } megohms)
            return (null, "Insulation resistance: nominal voltage or result not stated.");
        var isExtraLow = IsExtraLow(nominal, test.MainsSide);
        var judged = InsulationResistance.Judge(nominal, isExtraLow, megohms);
        var says = $"Insulation resistance {Words.Of(megohms, "MΩ")}. {judged.Text} ({judged.Source})";
        var meets = Meets(judged.Kind);
        var asked = InsulationResistance.For(nominal, isExtraLow)?.TestVoltsDc;
        if (meets != true || asked is null || test.TestVolts is not { } tested || tested >= asked) return (meets, says);
        says += $" It was tested at {Words.Of(tested, "V")}";
        return tested >= InsulationResistance.ReducedTestVolts
            ? (true, says + ", which is for circuits whose electronics cannot be disconnected (643.3.3).")
            : (null, says + " only.");
    }

    private static (bool? Meets, string Says) Polarity(TestMade test)
    {
        var judged = ContinuityAndPolarity.JudgePolarity(test.PolarityRight switch
        {
            true => PolarityFinding.AsMarked,
            false => PolarityFinding.Reversed,
            _ => PolarityFinding.NotDetermined,
        });
        return (Meets(judged.Kind), $"{judged.Text} ({judged.Source})");
    }

    // Which conductor was tested is not recorded, so its resistance has nothing to be compared with.
    private static (bool? Meets, string Says) Continuity(TestMade test) =>
        (null, test.Ohms is { } ohms
            ? $"Continuity {Words.Of(ohms, "Ω")}; compare it with the length and area of the conductor. "
                + $"({ContinuityAndPolarity.ContinuitySource})"
            : "Continuity: result not stated.");

    private static (bool? Meets, string Says) TripTime(TestMade test)
    {
        if (test.TripMilliseconds is not { } trip) return (null, "Residual current device: trip time not stated.");
        var multiple = test.CurrentMultiple ?? 1;
        var kind = test.DeviceType == ResidualCurrentDeviceType.Selective ? RcdKind.Selective : RcdKind.General;
        var judged = RcdTime.Judge(kind, multiple == Math.Floor(multiple) ? (int)multiple : 0, trip);
        return (
            judged.Kind == VerdictKind.Doubtful ? null : Meets(judged.Kind),
            $"Residual current device: {Words.Of(trip, "ms")} at {Words.Of(multiple, "×")} rated. {judged.Text} "
                + $"({judged.Source})");
    }

    // A result that reaches the value only if the meter is right does reach it; the words say to measure again.
    private static bool? Meets(VerdictKind kind) => kind switch
    {
        VerdictKind.Within or VerdictKind.Doubtful => true,
        VerdictKind.Outside => false,
        _ => null,
    };
}
