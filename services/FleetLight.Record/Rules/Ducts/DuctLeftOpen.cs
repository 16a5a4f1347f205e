using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Ducts;

namespace FleetLight.Record.Rules.Ducts;

/// <summary>A cable in a duct with an open end: vermin gnaw it and water stands in it.</summary>
public static class DuctLeftOpen
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "duct-left-open",
        "Duct left open",
        AlertSeverity.Warning,
        "A cable lies in a duct and an end of it was not plugged since the last pull.",
        "Plug both ends of the duct against water and vermin.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the duct.</summary>
    public static void Find(DuctState duct, ICollection<Finding> found)
    {
        if (duct.Cables.Count == 0 || duct.LastPull is not { } pull) return;
        var open = new[] { RunEnd.Near, RunEnd.Far }.Where(end => !duct.Plugs.ContainsKey(end)).ToList();
        if (open.Count == 0) return;
        var ends = open.Count == 2 ? "Both ends" : open[0] == RunEnd.Near ? "The near end" : "The far end";
        found.Add(Rule.On(
            duct.Subject,
            $"{ends} of the duct stand{(open.Count == 2 ? "" : "s")} open since the last cable went in.",
            duct.CircuitIds,
            [pull.Key]));
    }
}
