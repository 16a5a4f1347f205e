using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;

namespace FleetLight.Record.Circuits;

/// <summary>Holds the figures of a test against the value that its standard names. Advice, never a certificate.</summary>
public static class TestJudge
{
    private const string Caution = " Such tests are for competent, licensed persons; the local code decides.";

    // Where electronics stay connected, 250 V DC with the live conductors joined is asked for (IEC 60364-6, 643.3.3).
    private const double ReducedTestVolts = 250;

    /// <summary>What is made of a test.</summary>
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
            Says = says + Caution,
        };
    }

    /// <summary>
    /// Test voltage, V DC, and least insulation resistance, MΩ, by nominal voltage, V: IEC 60364-6 Table 6A (6.1): SELV and
    /// PELV 250 V and 0.5 MΩ, up to 500 V 500 V and 1.0 MΩ, above 1,000 V and 1.0 MΩ.
    /// </summary>
    public static (double TestVolts, double LeastMegohms) InsulationLimits(double nominalVolts) => nominalVolts switch
    {
        <= 50 => (250, 0.5),
        <= 500 => (500, 1.0),
        _ => (1000, 1.0),
    };

    private static (bool? Meets, string Says) Insulation(TestMade test)
    {
        if (test.NominalVolts is not { } nominal || test.Megohms is not { } megohms)
            return (null, "Insulation resistance: nominal voltage or reading not stated.");
        var (volts, least) = InsulationLimits(nominal);
        var says = $"Insulation resistance {Words.Of(megohms, "MΩ")}; IEC 60364-6 Table 6A asks for at least "
            + $"{Words.Of(least, "MΩ")} at {Words.Of(volts, "V")} DC for a nominal {Words.Of(nominal, "V")}.";
        if (megohms < least) return (false, says);
        if (test.TestVolts is not { } tested || tested >= volts) return (true, says);
        return tested >= ReducedTestVolts
            ? (true, says + $" It was tested at {Words.Of(tested, "V")}, which is for circuits whose electronics cannot be disconnected (643.3.3).")
            : (null, says + $" It was tested at {Words.Of(tested, "V")} only.");
    }

    private static (bool? Meets, string Says) Polarity(TestMade test) => test.PolarityRight switch
    {
        true => (true, "Polarity found right (IEC 60364-6)."),
        false => (false, "Polarity found wrong (IEC 60364-6 asks that it is right)."),
        _ => (null, "Polarity: result not stated."),
    };

    private static (bool? Meets, string Says) Continuity(TestMade test) =>
        (null, test.Ohms is { } ohms
            ? $"Continuity {Words.Of(ohms, "Ω")}. IEC 60364-6 asks that it is proven and names no value; compare it with the length and area of the conductor."
            : "Continuity: reading not stated.");

    // IEC 61008 and 61009: general type at most 300 ms at the rated current and 40 ms at five times it; type S 130 to
    // 500 ms and 50 to 150 ms.
    private static (bool? Meets, string Says) TripTime(TestMade test)
    {
        if (test.TripMilliseconds is not { } trip) return (null, "Residual current device: trip time not stated.");
        var multiple = test.CurrentMultiple ?? 1;
        if (multiple < 1)
            return (null, $"Residual current device: {Words.Of(trip, "ms")} at {Words.Of(multiple, "×")} its rated current; no trip time is named below the rated current.");
        var selective = test.DeviceType == ResidualCurrentDeviceType.Selective;
        var (least, most) = (selective, multiple >= 5) switch
        {
            (false, false) => (0.0, 300.0),
            (false, true) => (0.0, 40.0),
            (true, false) => (130.0, 500.0),
            (true, true) => (50.0, 150.0),
        };
        var range = least > 0 ? $"{Words.Of(least, "ms")} to {Words.Of(most, "ms")}" : $"at most {Words.Of(most, "ms")}";
        return (
            trip >= least && trip <= most,
            $"Residual current device tripped in {Words.Of(trip, "ms")} at {Words.Of(multiple, "×")} its rated current; "
            + $"IEC 61008 and 61009 ask for {range} for {(selective ? "type S" : "the general type")}.");
    }
}
