using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Visits;

/// <summary>What findings on cables ask for.</summary>
internal static class CableNeeds
{
    private const int Ends = 2;

    /// <summary>Labels at both ends.</summary>
    public static void Labels(Finding finding, TakeAlongList list) =>
        DuctNeeds.Tape(finding.Subject.Id, $"cable {finding.Subject.Id}", Ends, finding, list);

    /// <summary>What tells which core is which.</summary>
    public static void Proving(Finding finding, TakeAlongList list)
    {
        CircuitNeeds.Meter(finding.Reason, list);
        CircuitNeeds.Prover(list);
    }

    /// <summary>Sleeves for the cores that have none.</summary>
    public static void MissingSleeves(Finding finding, TakeAlongList list) =>
        Sleeves(finding, list, core => core is { Use: CoreUse.Circuit, Sleeves.Count: 0 });

    /// <summary>Sleeves for all cores of circuits, once their polarity was proved.</summary>
    public static void WrongSleeves(Finding finding, TakeAlongList list)
    {
        Sleeves(finding, list, core => core.Use == CoreUse.Circuit);
        Proving(finding, list);
    }

    private static void Sleeves(Finding finding, TakeAlongList list, Func<CoreView, bool> wanted)
    {
        var cores = list.Ground.Cables.GetValueOrDefault(finding.Subject.Id)?.Cores.Count(wanted) ?? 0;
        list.Add(
            new(TakeAlongItem.PolaritySleeve, "polarity sleeve", finding.Subject.Id)
            {
                Pieces = cores > 0 ? cores * Ends : null,
                Assumed = cores > 0 ? null : "As many as the cable has cores, for both ends.",
            },
            finding.Reason);
    }
}
