using System.Collections.Immutable;
using System.Runtime.InteropServices;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>
/// What a constant-voltage circuit should read: radial, branched and ring-fed networks with mixed loads.
/// </summary>
/// <remarks>
/// A circuit that asks, beyond its uncertainty, for more than the driver gives is refused. Where just the best estimate
/// is more, the driver's voltage sags to where it fits, and a remark says that the driver is at its limit.
/// </remarks>
internal static class NetworkExpectation
{
    /// <summary>Drop from which the first-order uncertainty is no longer to be trusted, % of driver volts.</summary>
    private const double CloseToCollapsePercent = 25;

    public static ExpectedOutcome Of(NetworkPlan plan)
    {
        var point = plan.WithoutLimits(out var refusal);
        if (point is null) return refusal!;
        var output = Output.Of(plan, point);
        var driver = plan.Model.Driver;
        refusal = DriverWindow.ConstantVoltageObstacle(driver, output.Milliamps, output.Watts);
        if (refusal is not null) return refusal;
        if (!(output.Milliamps.Best / 1000 > driver.MostAmps) && !(output.Watts.Best > driver.MostWatts))
            return Readings(plan, point, new NetworkProfile(point.Built, point.Solver).Volts, output);
        // It may ask for just more than the driver gives or for just less; the best estimate is that the voltage sags.
        if (plan.Solve([], [], out refusal) is not NetworkPoint sagging) return refusal!;
        return Readings(plan, sagging, node => At(plan, parts => sagging.VoltsAt(node, parts)), Output.Of(plan, sagging));
    }

    private static Estimate At(NetworkPlan plan, Func<double[], double> predict)
    {
        var parts = new double[plan.Inputs.Length];
        var best = predict(parts);
        return Close(plan.Inputs, parts, best);
    }

    private static ExpectedReadings Readings(
        NetworkPlan plan, NetworkPoint point, Func<int, Estimate> voltsAt, Output output)
    {
        var (driverVolts, milliamps, watts) = output;
        var model = plan.Model;
        var layout = point.Built.Layout;
        var nodes = new NodeExpectation[layout.Named - 1];
        for (var n = 1; n <= nodes.Length; n++)
            nodes[n - 1] = new NodeExpectation(layout.Name(n), voltsAt(NetworkLayout.NodeOfNamed(n)));
        var notes = DriverWindow.Notes(
            model.Driver, DriveKind.ConstantVoltage, driverVolts, watts, milliamps.Best / 1000).ToBuilder();
        var fittings = new FittingExpectation[model.Fittings.Length];
        var least = driverVolts.Best;
        for (var i = 0; i < fittings.Length; i++)
        {
            var volts = layout.NamedOfNode(layout.LoadNode[i]) is >= 0 and var named
                ? nodes[named - 1].VoltsDc
                : voltsAt(layout.LoadNode[i]);
            fittings[i] = new FittingExpectation(
                model.Fittings[i].Id, volts, point.LitShare(i) * model.Fittings[i].RatedWatts);
            least = Math.Min(least, volts.Best);
            if (point.Built.Loads[i] is { IsDropped: true } load) Dark(notes, model.Fittings[i].Id, load, volts.Best);
        }

        var drop = 100 * (driverVolts.Best - least) / driverVolts.Best;
        if (drop > CloseToCollapsePercent) notes.Add(TooMuchDrop(drop));
        return new ExpectedReadings
        {
            Drive = DriveKind.ConstantVoltage,
            DriverVoltsDc = driverVolts,
            DriverMilliamps = milliamps,
            DriverWatts = watts,
            Loading = DriverWindow.Loading(model.Driver, driverVolts.Best, watts.Best, milliamps.Best / 1000),
            Fittings = ImmutableCollectionsMarshal.AsImmutableArray(fittings),
            Nodes = ImmutableCollectionsMarshal.AsImmutableArray(nodes),
            WorstDropPercent = drop,
            Iterations = point.Iterations,
            Notes = notes.ToImmutable(),
        };
    }

    private static Estimate Close(ImmutableArray<InputShape> inputs, ReadOnlySpan<double> parts, double best)
    {
        var budget = new BudgetBuilder();
        budget.Add(parts, inputs);
        return budget.Close(best);
    }

    private static void Dark(
        ImmutableArray<ExpectationNote>.Builder notes, string fitting, in NetworkLoad load, double volts)
    {
        var field = $"fittings[{load.Fitting}].leastVolts";
        notes.Add(new ExpectationNote(
            NoteCode.FittingBelowLeastVolts,
            $"Fitting {fitting} would get less than the {Plain.Figure(load.LeastVolts)} V it needs and goes dark.",
            field));
        if (!(volts >= load.LeastVolts)) return;
        notes.Add(new ExpectationNote(
            NoteCode.FittingStartsAndStops,
            $"Fitting {fitting} gets {Plain.Figure(volts)} V again once it is dark: it may start and stop.",
            field));
    }

    private static ExpectationNote TooMuchDrop(double percent) => new(
        NoteCode.CloseToCollapse,
        $"The cable drops {Plain.Figure(percent)} % of the driver's volts; the stated uncertainty is too small there.",
        "runs");

    // What the driver gives.
    private sealed record Output(Estimate Volts, Estimate Milliamps, Estimate Watts)
    {
        public static Output Of(NetworkPlan plan, NetworkPoint point)
        {
            var inputs = plan.Inputs;
            var milliampsBy = new double[inputs.Length];
            var voltsBy = new double[inputs.Length];
            var milliamps = point.Predict(CircuitModel.DriverNode, MeasuredQuantity.Milliamps, milliampsBy);
            var volts = point.Predict(CircuitModel.DriverNode, MeasuredQuantity.VoltsDc, voltsBy);
            var byVolts = Close(inputs, voltsBy, volts);
            for (var k = 0; k < voltsBy.Length; k++)
                voltsBy[k] = ((voltsBy[k] * milliamps) + (volts * milliampsBy[k])) / 1000;
            return new(byVolts, Close(inputs, milliampsBy, milliamps), Close(inputs, voltsBy, volts * milliamps / 1000));
        }
    }
}
