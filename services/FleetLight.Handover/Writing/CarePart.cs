using FleetLight.Contracts.Views;
using FleetLight.Handover.Blocks;
using FleetLight.PageParts.Wording;

namespace FleetLight.Handover.Writing;

/// <summary>What is still to be done, what to look after, and what to mind.</summary>
internal static class CarePart
{
    public static IEnumerable<Block> Write(HandoverPack pack, Said said)
    {
        yield return new Heading(1, "Maintenance", true);
        yield return new Prose("Intervals are common practice, no source; where local rules or an insurer ask for shorter ones, those count. Days follow from when circuits were in use, or from when it was last recorded as done.");
        yield return new Grid(
            "Plan of maintenance",
            [new("Next on", 1), new("What", 3.6), new("Why", 2.6), new("Circuits", 1.3), new("By whom", 1), new("Every", 0.9), new("Then on", 1)],
            [
                .. pack.Maintenance.Select(task => (IReadOnlyList<string>)
                [
                    task.Due.Count == 0 ? "once in use" : (task.Overdue ? "overdue since " : "") + Said.Day(task.Due[0]),
                    task.What, task.Why + (task.LastOn is { } last ? $" Last done on {Said.Day(last)}." : ""), said.Circuits(task.CircuitIds),
                    task.Hand switch { MaintenanceHand.Owner => "owner", MaintenanceHand.Crew => "lighting crew", _ => "licensed person" },
                    task.EveryMonths is { } months ? $"{months} months" : "once", string.Join(", ", task.Due.Skip(1).Select(Said.Day)),
                ]),
            ],
            "Nothing is built that asks for care.");
        yield return new Heading(1, "Alerts and open points");
        yield return new Grid(
            "Alerts that stand",
            [new("Weight", 0.8), new("What is wrong", 4), new("What clears it", 3.2), new("Circuits", 1.4)],
            [
                .. pack.Alerts.Select(alert => (IReadOnlyList<string>)
                    [PlainWords.Of(alert.Severity), alert.Reason, alert.Remedy, alert.CircuitIds.Count == 0 ? "" : said.Circuits(alert.CircuitIds)]),
            ],
            "No alert stands.");
        yield return new Grid(
            "Open points",
            [new("By when", 1.1), new("Where", 1.6), new("What is missing", 3.2), new("What to do", 3.2)],
            [
                .. pack.OpenPoints.Select(point => (IReadOnlyList<string>)
                    [PlainWords.Of(point.Phase), point.Label + (point.Place is { } place && place != point.Label ? $", {place}" : ""), point.Missing, point.Remedy]),
            ],
            "No point is open.");
        if (pack.Reminders.Count > 0)
        {
            yield return new Heading(2, "To look after, though no record shows it");
            yield return new Points([.. pack.Reminders.Select(reminder => $"{reminder.Label}: {reminder.Says}")]);
        }

        yield return new Heading(1, "Cautions");
        yield return new Prose("Local codes and the word of a licensed person come before anything in this pack.");
        foreach (var caution in pack.Cautions) yield return new Framed(caution.About, [caution.Says]);
    }
}
