using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A repair of which nobody knows whether it helped.</summary>
public static class NoReadingSinceRepair
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "no-reading-since-repair",
        "No reading since a repair",
        AlertSeverity.Notice,
        "A repair was made and no reading was taken since.",
        "Take a reading at the driver.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the readings since the last repair.</summary>
    public static void Find(Visit visit, ICollection<Finding> found)
    {
        if (visit.Basis.LastRepair is not { } repair || visit.ReadSinceRepair) return;
        found.Add(Rule.On(
            visit.Subject,
            "No reading was taken since the last repair.",
            [visit.Subject.Id],
            [repair]));
    }
}
