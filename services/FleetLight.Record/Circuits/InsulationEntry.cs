using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Circuits;

/// <summary>A test of insulation resistance that counts, as short as drift needs it.</summary>
/// <param name="Fact">The fact, <c>source#id</c>.</param>
/// <param name="At">When it was made.</param>
/// <param name="MainsSide">Whether it was made on the mains side.</param>
/// <param name="NominalVolts">Nominal voltage of the circuit, V; none where not stated.</param>
/// <param name="Megohms">The result, MΩ.</param>
/// <param name="Tester">The tester, by its name or else by the device that recorded it.</param>
public sealed record InsulationEntry(
    string Fact, DateTimeOffset At, bool MainsSide, double? NominalVolts, double Megohms, string Tester)
{
    private const int Most = 64;

    /// <summary>The newest of them, oldest first; nothing where there are too few to look for drift.</summary>
    internal static IReadOnlyList<InsulationEntry>? Of(ThingHistory history)
    {
        List<InsulationEntry> all =
        [
            .. history.All<TestMade>()
                .Where(test => test.Data is { Test: TestKind.InsulationResistance, Megohms: not null })
                .Select(test => new InsulationEntry(
                    test.Key,
                    test.At,
                    test.Data.MainsSide,
                    test.Data.NominalVolts,
                    test.Data.Megohms!.Value,
                    MeterNames.Of(test.Data.MeterName, test.Fact.Of.Source))),
        ];
        return all.Count < Electrics.DriftOptions.Default.LeastVisits ? null : all.Count <= Most ? all : all[^Most..];
    }
}

/// <summary>What a meter is told apart from others by.</summary>
internal static class MeterNames
{
    /// <summary>
    /// Its name, whoever held it and however they wrote it; where there is none, the device stands for the meter that goes
    /// with it.
    /// </summary>
    public static string Of(string? name, string source) =>
        string.IsNullOrWhiteSpace(name) ? source : $"meter {name.Trim().ToUpperInvariant()}";
}
