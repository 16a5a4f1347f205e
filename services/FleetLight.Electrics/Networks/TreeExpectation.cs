using System.Collections.Immutable;
using System.Runtime.InteropServices;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>
/// What a constant-voltage circuit should read: radial and branched networks with constant-power fittings.
/// </summary>
internal static class TreeExpectation
{
    /// <summary>Drop from which the first-order uncertainty is no longer to be trusted, % of driver volts.</summary>
    private const double CloseToCollapsePercent = 25;

    public static ExpectedOutcome Of(CircuitModel model, Assumptions assumptions)
    {
        var network = TreeNetwork.TryBuild(model, out var refusal);
        if (network is null) return refusal!;
        var cables = Cables(model.Runs.OrEmpty(), network, assumptions);
        var ratedVolts = model.Driver.RatedVolts.GetValueOrDefault();
        var solution = TreeSolution.TrySolve(network, ratedVolts);
        if (solution is null) return Collapse.Refusal(network, ratedVolts);

        var uncertainty = new TreeUncertainty(model, network, solution, cables);
        var milliamps = uncertainty.DriverCurrent(1000);
        var watts = uncertainty.DriverWatts();
        refusal = DriverWindow.ConstantVoltageObstacle(model.Driver, milliamps, watts);
        if (refusal is not null) return refusal;
        return Readings(model, network, solution, uncertainty, milliamps, watts);
    }

    /// <summary>Works out every cable and sets the network's resistances to the best estimates.</summary>
    internal static Cable[] Cables(ImmutableArray<RunModel> runs, TreeNetwork network, Assumptions assumptions)
    {
        var cables = new Cable[runs.Length];
        for (var r = 0; r < cables.Length; r++) cables[r] = new Cable(runs[r], assumptions);
        for (var n = 1; n < network.Count; n++) network.Ohms[n] = cables[network.Run[n]].Ohms;
        return cables;
    }

    private static ExpectedReadings Readings(
        CircuitModel model, TreeNetwork network, TreeSolution solution, TreeUncertainty uncertainty,
        Estimate milliamps, Estimate watts)
    {
        var driver = model.Driver;
        var driverVolts = uncertainty.DriverVolts();
        var nodes = new NodeExpectation[network.Count - 1];
        var fittings = new FittingExpectation[model.Fittings.Length];
        double least = driverVolts.Best;
        var notes = DriverWindow.Notes(driver, DriveKind.ConstantVoltage, driverVolts, watts, milliamps.Best / 1000);
        for (var n = 1; n < network.Count; n++)
        {
            var volts = uncertainty.Volts(n);
            nodes[n - 1] = new NodeExpectation(network.Names[n], volts);
            if (network.Fitting[n] < 0) continue;
            var fitting = model.Fittings[network.Fitting[n]];
            fittings[network.Fitting[n]] = new FittingExpectation(fitting.Id, volts, fitting.RatedWatts);
            least = Math.Min(least, volts.Best);
            if (fitting.LeastVolts > volts.Best) notes = notes.Add(BelowLeast(fitting, volts.Best, network.Fitting[n]));
        }

        var drop = 100 * (driverVolts.Best - least) / driverVolts.Best;
        if (drop > CloseToCollapsePercent) notes = notes.Add(TooMuchDrop(drop));
        return new ExpectedReadings
        {
            Drive = DriveKind.ConstantVoltage,
            DriverVoltsDc = driverVolts,
            DriverMilliamps = milliamps,
            DriverWatts = watts,
            Loading = DriverWindow.Loading(driver, driverVolts.Best, watts.Best, milliamps.Best / 1000),
            Fittings = ImmutableCollectionsMarshal.AsImmutableArray(fittings),
            Nodes = ImmutableCollectionsMarshal.AsImmutableArray(nodes),
            WorstDropPercent = drop,
            Notes = notes,
        };
    }

    private static ExpectationNote BelowLeast(FittingModel fitting, double volts, int index) => new(
        NoteCode.FittingBelowLeastVolts,
        $"Fitting {fitting.Id} gets {Plain.Figure(volts)} V and needs {Plain.Figure(fitting.LeastVolts ?? 0)} V.",
        $"fittings[{index}].leastVolts");

    private static ExpectationNote TooMuchDrop(double percent) => new(
        NoteCode.CloseToCollapse,
        $"The cable drops {Plain.Figure(percent)} % of the driver's volts; the stated uncertainty is too small there.",
        "runs");
}
