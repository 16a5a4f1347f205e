using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Cables;

namespace FleetLight.Record.Rules.Cables;

/// <summary>
/// A jointed core that does not say which way the current goes. It is found once the core is jointed: before that there
/// is nothing to mistake.
/// </summary>
public static class PolaritySleeveMissing
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "polarity-sleeve-missing",
        "Polarity sleeving missing",
        AlertSeverity.Warning,
        "A core that carries a circuit is held in a joint and bears no sleeve at either end.",
        "Sleeve every core that carries a circuit, at both ends, and record it.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the cable.</summary>
    public static void Find(CableState cable, ICollection<Finding> found)
    {
        var bare = cable.Cores
            .Where(core => core is { Use: CoreUse.Circuit, Sleeves.Count: 0 })
            .Select(core => (core.Core, Joints: cable.Joints.Where(one => cable.Holds(one.Data, core.Core)).ToList()))
            .Where(core => core.Joints.Count > 0)
            .ToList();
        if (bare.Count == 0) return;
        found.Add(Rule.On(
            cable.Subject,
            $"No polarity sleeve on core{(bare.Count == 1 ? "" : "s")} "
                + $"{string.Join(", ", bare.Select(core => core.Core))}.",
            cable.CircuitIds,
            [.. bare.SelectMany(core => core.Joints).Select(one => one.Key).Distinct().Order(StringComparer.Ordinal)]));
    }
}
