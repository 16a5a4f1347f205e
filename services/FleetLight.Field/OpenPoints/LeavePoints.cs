using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Field.Sites;
using FleetLight.Record.OpenPoints;
using FleetLight.Record.Sites;

namespace FleetLight.Field.OpenPoints;

/// <summary>What is open on a site before the crew leaves, out of the facts that this phone has. Pure.</summary>
public static class LeavePoints
{
    /// <summary>The points of the chosen site up to a phase.</summary>
    public static OpenPointsView Of(ISiteState site, WorkPhase phase) => InSteps(site, phase).Last()!;

    /// <summary>
    /// The same in small steps: a circuit whose readings are off is looked into for its finding, which takes a phone long. None for
    /// every step but the last.
    /// </summary>
    public static IEnumerable<OpenPointsView?> InSteps(ISiteState site, WorkPhase phase)
    {
        ArgumentNullException.ThrowIfNull(site);
        var circuits = new List<CircuitView>();
        foreach (var design in site.Designs)
        {
            CircuitView? line = null;
            foreach (var step in site.Works.CircuitLineInSteps(design.CircuitId))
            {
                line = step;
                yield return null;
            }

            if (line is not null) circuits.Add(line);
        }

        yield return OpenPointList.Of(
            new SiteStates
            {
                SiteId = site.SiteId!,
                Site = site.Works.SiteOf(site.SiteId!),
                Ducts = site.Ducts,
                Cables = site.Cables,
                Boxes = site.Boxes,
                Circuits = circuits,
                Designs = site.Designs.ToDictionary(design => design.CircuitId),
            },
            phase);
    }

    /// <summary>The fact that takes a point off, where its data is whole.</summary>
    public static IFact? FactOf(TickOff tick)
    {
        ArgumentNullException.ThrowIfNull(tick);
        if (tick.Asks.Count > 0 || FactTypes.Find(tick.Type) is not { } type) return null;
        return tick.Data.Deserialize(type, WireJson.Lenient) as IFact;
    }

    /// <summary>What people call a phase as a question before leaving.</summary>
    public static string Of(WorkPhase phase) => phase switch
    {
        WorkPhase.BeforeCover => "The ground is being closed",
        WorkPhase.BeforeEnergising => "It is being energised",
        _ => "It is being handed over",
    };
}
