using System.Collections.Immutable;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;

namespace FleetLight.Record.Circuits;

/// <summary>Turns what the electrics expect into what is shown and kept.</summary>
internal static class ExpectedList
{
    // 0.1 mV, 0.1 µA and 0.1 mΩ are far below what any meter of the trade shows.
    private const int Decimals = 4;

    /// <summary>The readings place by place: the driver first, then fittings and boxes in order.</summary>
    public static IReadOnlyList<ExpectedReading> Of(ExpectedReadings? reads)
    {
        if (reads is null) return [];
        var list = new List<ExpectedReading>(3 + reads.Fittings.Length + reads.Nodes.Length)
        {
            At(ReadingPlaceKind.Driver, null, ReadingQuantity.VoltsDc, reads.DriverVoltsDc),
            At(ReadingPlaceKind.Driver, null, ReadingQuantity.Milliamps, reads.DriverMilliamps),
        };
        if (reads.CableLoopOhms is { } ohms)
            list.Add(At(ReadingPlaceKind.Driver, null, ReadingQuantity.LoopOhms, ohms));
        var fittings = new HashSet<string>(StringComparer.Ordinal);
        foreach (var fitting in reads.Fittings)
        {
            fittings.Add(fitting.FittingId);
            list.Add(At(ReadingPlaceKind.Fitting, fitting.FittingId, ReadingQuantity.VoltsDc, fitting.VoltsDc));
        }

        foreach (var node in reads.Nodes)
            if (!fittings.Contains(node.NodeId))
                list.Add(At(ReadingPlaceKind.Box, node.NodeId, ReadingQuantity.VoltsDc, node.VoltsDc));
        return list;
    }

    /// <summary>
    /// The same figures without the budgets, which nobody asks for again and which are ten times their size.
    /// </summary>
    public static ExpectedReadings WithoutBudgets(ExpectedReadings reads) => reads with
    {
        DriverVoltsDc = Bare(reads.DriverVoltsDc),
        DriverMilliamps = Bare(reads.DriverMilliamps),
        DriverWatts = Bare(reads.DriverWatts),
        CableLoopOhms = reads.CableLoopOhms is { } ohms ? Bare(ohms) : null,
        Fittings = [.. reads.Fittings.Select(fitting => fitting with { VoltsDc = Bare(fitting.VoltsDc) })],
        Nodes = [.. reads.Nodes.Select(node => node with { VoltsDc = Bare(node.VoltsDc) })],
    };

    private static Estimate Bare(Estimate estimate) =>
        estimate with { Budget = ImmutableArray<UncertaintyContribution>.Empty };

    private static ExpectedReading At(
        ReadingPlaceKind place, string? id, ReadingQuantity quantity, Estimate estimate) => new()
        {
            Place = place,
            PlaceId = id,
            Quantity = quantity,
            Expected = new ExpectedValue
            {
                Value = Math.Round(estimate.Best, Decimals),
                StandardUncertainty = Math.Round(estimate.StandardUncertainty, Decimals),
                Low = Math.Round(estimate.Low95, Decimals),
                High = Math.Round(estimate.High95, Decimals),
            },
        };
}
