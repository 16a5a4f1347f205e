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
        yield return new Prose(
            "Intervals are common practice, no source; where local rules or an insurer ask for shorter ones, those count. Days follow from when circuits were in use, "
            + "or from when it was last recorded as done.");
        yield return new Grid(
            "Plan of maintenance",
            [new("Next on", 1.15), new("What", 3.4), new("Why", 2.7), new("Circuits", 1.2), new("By whom", 0.9), new("Every", 0.95), new("Then on", 1.15)],
            [
                .. pack.Maintenance.Select(task => (IReadOnlyList<string>)
                [
                    task.Due.Count == 0 ? "once in use" : (task.Overdue ? "overdue since " : "") + Said.Day(task.Due[0]),
                    task.What, task.Why + (task.LastOn is { } last ? $" Last done on {Said.Day(last)}." : ""), said.Circuits(task.CircuitIds),
                    task.Hand switch { MaintenanceHand.Owner => "owner", MaintenanceHand.Crew => "lighting crew", _ => "licensed person" },
                    task.EveryMonths is { } months ? $"{months} months" : "once", string.Join("\n", task.Due.Skip(1).Select(Said.Day)),
                ]),
            ],
            "Nothing is built that asks for care.");
        yield return new Heading(1, "Alerts and open points");
        yield return Alerts(pack, said);
        yield return new Grid(
            "Open points",
            [new("By when", 1), new("What is missing", 3), new("Where", 3), new("What to do", 3)],
            [
                .. pack.OpenPoints.GroupBy(point => (point.Phase, point.Missing, point.Remedy)).Select(same => (IReadOnlyList<string>)
                    [PlainWords.Of(same.Key.Phase), same.Key.Missing, string.Join(", ", same.Select(said.Where).Distinct()), same.Key.Remedy]),
            ],
            "No point is open.");
        if (pack.Reminders.Count > 0)
        {
            yield return new Heading(2, "To look after, though no record shows it");
            yield return new Points(
            [
                .. pack.Reminders.GroupBy(reminder => reminder.Says).Select(same => $"{string.Join(", ", same.Select(reminder => reminder.Label))}: {same.Key}"),
            ]);
        }

        yield return new Heading(1, "Cautions");
        yield return new Prose("Local codes and the word of a licensed person come before anything in this pack.");
        foreach (var caution in pack.Cautions) yield return new Framed(caution.About, [caution.Says]);
    }

    private static Grid Alerts(HandoverPack pack, Said said)
    {
        var noted = pack.Notes.Count > 0;
        return new Grid(
            "Alerts that stand",
            [
                new("Weight", 1), new("What is wrong", 3.4), new("Of what", noted ? 1.7 : 2.4), new("What clears it", noted ? 2.5 : 3),
                .. noted ? (Column[])[new("What was noted of it", 2.6)] : [],
            ],
            [
                .. pack.Alerts.GroupBy(alert => (alert.Severity, alert.Reason, alert.Remedy)).Select(same => (IReadOnlyList<string>)
                [
                    PlainWords.Of(same.Key.Severity), same.Key.Reason, string.Join(", ", same.Select(alert => said.Thing(alert.Subject)).Distinct()), same.Key.Remedy,
                    .. noted ? (string[])[string.Join('\n', same.SelectMany(alert => Notes(pack, alert, said, same.Count() > 1)))] : [],
                ]),
            ],
            "No alert stands.");
    }

    private static IEnumerable<string> Notes(HandoverPack pack, Finding alert, Said said, bool amongOthers) =>
        pack.Notes.Where(note => note.Rule == alert.Rule && note.Subject == alert.Subject && note.Cause == alert.Cause)
            .Select(note => $"{said.Time(note.At)}, {note.By}{(amongOthers ? $", of {said.Thing(alert.Subject)}" : "")}: {note.Says ?? "taken note of"}");
}
