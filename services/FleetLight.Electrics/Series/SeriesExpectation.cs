using System.Collections.Immutable;
using System.Runtime.InteropServices;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>What a constant-current series circuit should read.</summary>
/// <remarks>
/// The driver holds one current through all fittings; its voltage is the sum of their forward voltages and of current
/// times cable resistance. Where that is, within the uncertainty, beyond what the driver can, the current falls until
/// it fits. Uncertainty is first order (GUM 5.1).
/// </remarks>
internal static class SeriesExpectation
{
    public static ExpectedOutcome Of(SeriesPlan plan)
    {
        var driver = plan.Model.Driver;
        var asked = plan.WithoutLimits();
        var reads = new Terminals(plan, asked);
        var refusal = DriverWindow.ConstantCurrentObstacle(driver, reads.Volts, reads.Watts);
        if (refusal is not null) return refusal;
        var point = asked;
        if (reads.Volts.Best > driver.MostVolts || reads.Watts.Best > driver.MostWatts)
        {
            point = plan.WithLimits();
            reads = new Terminals(plan, point);
        }

        var amps = point.DriverAmps;
        var profile = new SeriesProfile(plan, point.Built, amps, reads.MilliampsBy);
        var fittings = new FittingExpectation[plan.Model.Fittings.Length];
        for (var i = 0; i < fittings.Length; i++)
        {
            var volts = profile.Fitting(i);
            fittings[i] = new FittingExpectation(plan.Model.Fittings[i].Id, volts, volts.Best * amps);
        }

        double most = 0;
        foreach (var part in point.Built.Parts) most += part.Tail.OhmsAtMost;
        foreach (var cable in point.Built.Cables.Cables) most += cable.OhmsAtMost;
        return new ExpectedReadings
        {
            Drive = DriveKind.ConstantCurrent,
            DriverVoltsDc = reads.Volts,
            DriverMilliamps = reads.Milliamps,
            DriverWatts = reads.Watts,
            CableLoopOhms = reads.Ohms,
            CableLoopOhmsAtMost = most,
            Loading = DriverWindow.Loading(driver, reads.Volts.Best, reads.Watts.Best, amps),
            Fittings = ImmutableCollectionsMarshal.AsImmutableArray(fittings),
            Nodes = Boxes(plan, point.Built.Layout, profile),
            WorstDropPercent = 100 * amps * reads.Ohms.Best / reads.Volts.Best,
            Iterations = point.Iterations,
            Notes = DriverWindow.Notes(driver, DriveKind.ConstantCurrent, reads.Volts, reads.Watts, amps),
        };
    }

    private static ImmutableArray<NodeExpectation> Boxes(SeriesPlan plan, LoopLayout layout, SeriesProfile profile)
    {
        if (!layout.IsKnown) return [];
        var isFitting = new bool[layout.Count];
        foreach (var position in layout.FittingPosition) isFitting[position] = true;
        var boxes = ImmutableArray.CreateBuilder<NodeExpectation>();
        for (var at = 1; at < layout.Count; at++)
            if (!isFitting[at] && layout.Tells(at)) boxes.Add(new NodeExpectation(layout.Name[at], profile.Box(at)));
        return boxes.ToImmutable();
    }

    // What there is to read at the driver.
    private sealed class Terminals
    {
        public Terminals(SeriesPlan plan, SeriesPoint point)
        {
            var volts = new double[plan.Inputs.Length];
            var ohms = new double[volts.Length];
            MilliampsBy = new double[volts.Length];
            var bestVolts = point.Predict(CircuitModel.DriverNode, MeasuredQuantity.VoltsDc, volts);
            var milliamps = point.Predict(CircuitModel.DriverNode, MeasuredQuantity.Milliamps, MilliampsBy);
            var bestOhms = point.Predict(CircuitModel.DriverNode, MeasuredQuantity.LoopOhms, ohms);
            Volts = Close(plan, volts, bestVolts);
            Milliamps = Close(plan, MilliampsBy, milliamps);
            Ohms = Close(plan, ohms, bestOhms);
            for (var k = 0; k < volts.Length; k++)
                volts[k] = ((volts[k] * milliamps) + (bestVolts * MilliampsBy[k])) / 1000;
            Watts = Close(plan, volts, bestVolts * milliamps / 1000);
        }

        public Estimate Volts { get; }

        public Estimate Milliamps { get; }

        public Estimate Watts { get; }

        public Estimate Ohms { get; }

        public double[] MilliampsBy { get; }

        private static Estimate Close(SeriesPlan plan, ReadOnlySpan<double> parts, double best)
        {
            var budget = new BudgetBuilder();
            budget.Add(parts, plan.Inputs);
            return budget.Close(best);
        }
    }
}
