using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Checks.Across;

/// <summary>Readings and tests.</summary>
internal static class MeasurementRules
{
    public static void Check(ReadingTaken reading, CheckRun run)
    {
        if (reading.Place != ReadingPlaceKind.Driver && reading.PlaceId is null)
            run.Invalid(
                "placeId",
                $"placeId is missing for a reading at a {Words.Of(reading.Place)}.",
                $"Name the {Words.Of(reading.Place)}.");
    }

    public static void Check(TestMade test, CheckRun run)
    {
        switch (test.Test)
        {
            case TestKind.InsulationResistance:
                Need(
                    test.NominalVolts is null,
                    "nominalVolts",
                    "the nominal voltage of the circuit in V",
                    test.Test,
                    run);
                Need(test.Megohms is null, "megohms", "the insulation resistance in MΩ", test.Test, run);
                break;
            case TestKind.Continuity:
                Need(test.Ohms is null, "ohms", "the resistance in Ω", test.Test, run);
                break;
            case TestKind.Polarity:
                Need(test.PolarityRight is null, "polarityRight", "whether the polarity was right", test.Test, run);
                break;
            default:
                Need(
                    test.RatedResidualMilliamps is null,
                    "ratedResidualMilliamps",
                    "the rated residual current in mA",
                    test.Test,
                    run);
                Need(test.TripMilliseconds is null, "tripMilliseconds", "the trip time in ms", test.Test, run);
                break;
        }
    }

    private static void Need(bool isMissing, string member, string what, TestKind kind, CheckRun run)
    {
        if (isMissing) run.Invalid(member, $"{member} is missing for a test of {Words.Of(kind)}.", $"Give {what}.");
    }
}
