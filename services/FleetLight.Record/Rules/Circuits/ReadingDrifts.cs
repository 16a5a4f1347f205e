using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>Readings that drift towards what they should not be, or that stepped without any work.</summary>
public static class ReadingDrifts
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "reading-drifts",
        "Reading drifts",
        AlertSeverity.Notice,
        "Readings over months change slowly and will cross the limit of what the circuit should read there within a "
            + "year, or within two months and the usual time between visits at the fastest; or they changed suddenly and "
            + "no recorded work explains it. Season, meters and scatter are allowed for. Tests of insulation are looked at likewise, "
            + "against the least value for their circuit.",
        "Plan a visit before the date named: look at the joints and cable of the circuit, mend what is going bad, record "
            + "the work and read again. It clears when readings after recorded work lie off the old line, or when the "
            + "change has gone.",
        "IEC 60364-6:2016 table 6.1 for insulation; Theil–Sen slope and Mann–Kendall test (Sen 1968, Kendall), CUSUM and EWMA charts (NIST/SEMATECH e-Handbook "
            + "6.3.2); the lead times are common practice, no source");

    /// <summary>Adds what it finds in the history of a circuit's readings.</summary>
    public static void Find(Visit visit, ICollection<Finding> found)
    {
        foreach (var drift in visit.Drifts)
        {
            if (!drift.View.AsksForVisit) continue;
            found.Add(Rule.On(
                visit.Subject,
                $"{drift.Where}: {drift.View.Says}",
                [visit.Subject.Id],
                drift.Evidence,
                drift.Key,
                Electrics.Expected.ModelVersion));
        }
    }
}
