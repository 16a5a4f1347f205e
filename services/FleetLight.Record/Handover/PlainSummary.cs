using FleetLight.Contracts.Views;
using FleetLight.Record.Files;

namespace FleetLight.Record.Handover;

/// <summary>The first page of a pack: for whoever owns the garden and knows nothing of circuits.</summary>
internal static class PlainSummary
{
    private const int MostAlerts = 4;

    public static HandoverSummary Of(
        IReadOnlyList<DuctView> ducts, IReadOnlyList<CableView> cables, IReadOnlyList<BoxView> boxes, IReadOnlyList<HandoverCircuit> circuits,
        IReadOnlyList<Finding> alerts, IReadOnlyList<OpenPoint> open, IReadOnlyList<MaintenanceTask> maintenance, bool hasMains) => new()
        {
            InTheGround = [.. InTheGround(ducts, cables, boxes, circuits)],
            State = [.. State(circuits, alerts, open)],
            LookAfter = [.. LookAfter(maintenance)],
            DoNot =
            [
                "Do not dig near the routes on the plan before the ducts and cables were located on the spot.",
                "Do not open boxes, fittings or drivers while they are switched on, and leave the mains side to licensed persons.",
                .. hasMains ? (IEnumerable<string>)["Do not leave a residual current device or fuse bridged or switched out to get the light back."] : [],
                "Do not put in fittings or lamps of another power, and do not lengthen a circuit, before it was worked out whether its driver feeds them.",
                "Do not cover fittings, drivers or box lids with soil, mulch or paving, and do not look into a lit fitting from close by.",
            ],
        };

    private static IEnumerable<string> InTheGround(
        IReadOnlyList<DuctView> ducts, IReadOnlyList<CableView> cables, IReadOnlyList<BoxView> boxes, IReadOnlyList<HandoverCircuit> circuits)
    {
        var fittings = circuits.Sum(circuit => circuit.State.Fittings.Count);
        if (circuits.Count > 0)
        {
            var watts = circuits.SelectMany(circuit => circuit.State.Fittings).Sum(fitting => fitting.RatedWatts);
            yield return $"{Count(circuits.Count, "lighting circuit")} with {Count(fittings, "fitting")}, {Words.Of(Math.Round(watts, 1), "W")} in all.";
        }

        if (ducts.Count > 0)
        {
            var depths = ducts.Where(duct => duct.DepthMillimetres is not null).Select(duct => duct.DepthMillimetres!.Value).ToArray();
            var depth = depths.Length == 0 ? "Nobody recorded how deep they lie"
                : depths.Min() == depths.Max() ? $"They were recorded {Words.Plain(depths.Min() / 10)} cm deep"
                : $"They were recorded {Words.Plain(depths.Min() / 10)} to {Words.Plain(depths.Max() / 10)} cm deep";
            var unknown = ducts.Count - depths.Length;
            yield return $"{Count(ducts.Count, "duct")} of {Metres(ducts.Sum(duct => duct.LengthMetres ?? 0))} in all. "
                + depth + (depths.Length > 0 && unknown > 0 ? $"; of {unknown} nobody recorded it." : ".");
        }

        if (cables.Count > 0)
            yield return $"{Count(cables.Count, "cable")} of {Metres(cables.Sum(cable => cable.LengthMetres ?? 0))} in all, and {Count(boxes.Count, "joint box", "joint boxes")}.";
        else if (boxes.Count > 0) yield return $"{Count(boxes.Count, "joint box", "joint boxes")}.";
        var empty = ducts.Count(duct => duct.CableIds.Count == 0);
        var strings = ducts.Count(duct => duct.StringInside);
        if (ducts.Count > 0)
            yield return $"For later: {Count(empty, "duct")} without a cable, and a draw string in {strings} of {ducts.Count}, so that a cable can be added without digging.";
    }

    private static IEnumerable<string> State(IReadOnlyList<HandoverCircuit> circuits, IReadOnlyList<Finding> alerts, IReadOnlyList<OpenPoint> open)
    {
        if (circuits.Count > 0)
        {
            var used = circuits.Where(circuit => circuit.CommissionedOn is not null).ToArray();
            yield return used.Length == circuits.Count
                ? $"All circuits are in use, the last one since {HandoverDays.Say(used.Max(circuit => circuit.CommissionedOn!.Value))}."
                : $"{used.Length} of {Count(circuits.Count, "circuit")} are in use; the others are not finished.";
            var within = circuits.Count(circuit => circuit.State.Verdict == CircuitVerdict.Within);
            yield return within == circuits.Count
                ? "Every circuit was measured and reads as it should."
                : $"{within} of {Count(circuits.Count, "circuit")} were measured and read as they should."
                    + Told(circuits, CircuitVerdict.Outside, "Not as it should be") + Told(circuits, CircuitVerdict.Doubtful, "Doubtful")
                    + Told(circuits, CircuitVerdict.Unread, "Not measured yet") + Told(circuits, CircuitVerdict.CannotBeJudged, "Measured, but cannot be judged");
        }

        var serious = alerts.Where(alert => alert.Severity == AlertSeverity.Serious).ToArray();
        foreach (var alert in serious.Take(MostAlerts)) yield return $"To be seen to: {alert.Reason}";
        if (serious.Length > MostAlerts) yield return $"And {serious.Length - MostAlerts} more of that weight; the list of alerts names them.";
        var others = alerts.Count - serious.Length;
        yield return (others, open.Count) switch
        {
            (0, 0) => serious.Length == 0 ? "No alert stands and no point is open." : "Besides, nothing is open.",
            _ => $"{Count(others, serious.Length > 0 ? "lesser alert" : "alert")} and {Count(open.Count, "open point")} stand in the lists of this pack.",
        };
    }

    private static string Told(IReadOnlyList<HandoverCircuit> circuits, CircuitVerdict verdict, string says)
    {
        var names = circuits.Where(circuit => circuit.State.Verdict == verdict).Select(circuit => circuit.State.Name ?? circuit.State.Id).ToArray();
        return names.Length == 0 ? "" : $" {says}: {string.Join(", ", names.Take(6))}{(names.Length > 6 ? $" and {names.Length - 6} more" : "")}.";
    }

    private static IEnumerable<string> LookAfter(IReadOnlyList<MaintenanceTask> maintenance)
    {
        if (maintenance.All(task => task.Due.Count == 0))
        {
            yield return "The plan of maintenance begins when the first circuit is in use.";
            yield break;
        }

        foreach (var task in maintenance.Where(task => task.Due.Count > 0).DistinctBy(task => task.Key))
        {
            var by = task.Overdue ? $"Due since {HandoverDays.Say(task.Due[0])}" : $"By {HandoverDays.Say(task.Due[0])}";
            var hand = task.Hand switch { MaintenanceHand.Owner => "you", MaintenanceHand.Crew => "a lighting crew", _ => "a licensed person" };
            yield return $"{by} ({hand}): {task.What}";
        }
    }

    private static string Metres(double metres) => Words.Of(Math.Round(metres, 0), "m");

    private static string Count(int number, string one, string? many = null) => $"{number} {(number == 1 ? one : many ?? one + "s")}";
}
