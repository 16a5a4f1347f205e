using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Ducts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Ducts;

/// <summary>A duct whose colour misleads the next digger.</summary>
public static class DuctColourNotOfService
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "duct-colour-not-of-service",
        "Duct colour not that of its service",
        AlertSeverity.Notice,
        "The colour seen is not the one called for on the site, or else not one that is usual for the service. "
            + "It is an observation: a colour never proves what a duct holds.",
        "Mark the duct plainly at both ends and record the colour called for on the site, or correct the record.",
        "common UK practice by trade summaries of the street works guidance; the colour table itself was not seen");

    /// <summary>The colours usual for a service, where any is usual.</summary>
    public static IReadOnlyList<DuctColour> Usual(DuctService service) => service switch
    {
        DuctService.LightingExtraLowVoltage => [DuctColour.Orange, DuctColour.Black],
        DuctService.MainsSupply => [DuctColour.Black],
        DuctService.Water => [DuctColour.Blue],
        DuctService.Gas => [DuctColour.Yellow],
        DuctService.Telecoms => [DuctColour.Grey, DuctColour.Green],
        _ => [],
    };

    /// <summary>Adds what it finds on the duct.</summary>
    public static void Find(DuctState duct, ICollection<Finding> found)
    {
        if (duct.Laid is not { } laid) return;
        IReadOnlyList<DuctColour> fitting = duct.Call?.Colour is { } called ? [called] : Usual(laid.Data.Service);
        if (fitting.Count == 0 || fitting.Contains(laid.Data.Colour)) return;
        var by = duct.Call?.Colour is null ? "usual for it" : "called for on this site";
        found.Add(Rule.On(
            duct.Subject,
            $"The duct is {Words.Of(laid.Data.Colour)}; it is laid for {Words.Said(laid.Data.Service)}, and "
            + $"{string.Join(" or ", fitting.Select(Words.Of))} is {by}. The colour is an observation and proves "
            + "nothing of what it holds.",
            duct.CircuitIds,
            [laid.Key]));
    }
}
