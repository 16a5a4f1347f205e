namespace FleetLight.Electrics;

/// <summary>The single faults of a constant-voltage radial circuit.</summary>
internal sealed class TreeFaults(CircuitModel model, TreePlan plan, DiagnosisOptions options, Weighing weighing)
{
    private const double LeastJointOhms = 0.05;
    private const double MostJointOhms = 50;
    private const double MostLengthFactor = 5;
    private const double LeastWatts = 0.3;

    private static readonly Hypothesis Blank = new(default, 0, null!, default);

    private readonly TreeFault none = new(model.Driver.RatedVolts.GetValueOrDefault());
    private readonly TreeNetwork network = plan.Network;

    /// <summary>Weighs every single fault.</summary>
    public void Weigh(TreeState sound)
    {
        weighing.Add(Blank with { Kind = FaultKind.AsDesigned }, options.Priors.AsDesigned, sound);
        var catalogue = Catalogue.Of(model, options);
        for (var n = 1; n < network.Count; n++)
        {
            if (network.Fitting[n] >= 0) WeighFitting(n, catalogue);
            WeighRun(n);
        }

        WeighExtra(catalogue);
        WeighDriver(sound);
    }

    private void WeighFitting(int node, double[] catalogue)
    {
        var priors = options.Priors;
        var count = model.Fittings.Length;
        var here = Blank with { Fitting = network.Fitting[node] };
        var rated = network.Watts[node];
        var others = catalogue.Count(w => w != rated);
        foreach (var watts in catalogue)
        {
            if (watts == rated) continue;
            weighing.Add(
                here with { Kind = FaultKind.FittingOfOtherWattage, Figure = watts },
                priors.FittingOfOtherWattage / count / others,
                Power(node, watts));
        }

        var most = 4 * Math.Max(catalogue.DefaultIfEmpty(rated).Max(), rated);
        weighing.AddFamily(
            here with { Kind = FaultKind.FittingOfOtherWattage, FreeFigure = true },
            priors.FittingOfUnknownWattage / count,
            Math.Min(LeastWatts, rated / 2), most, rated, _ => 1 / most, watts => Power(node, watts));
        // A reversed fitting blocks or is dead: like a missing one it takes no power.
        var dark = Power(node, 0);
        weighing.Add(here with { Kind = FaultKind.FittingMissing }, priors.FittingMissing / count, dark);
        weighing.Add(here with { Kind = FaultKind.FittingReversed }, priors.FittingReversed / count, dark);
    }

    private void WeighRun(int node)
    {
        var priors = options.Priors;
        var count = network.Count - 1;
        var here = Blank with { Run = network.Run[node] };
        weighing.AddFamily(
            here with { Kind = FaultKind.HighResistanceJoint },
            priors.HighResistanceJoint / count, LeastJointOhms, MostJointOhms, LeastJointOhms,
            ohms => 1 / (ohms * Math.Log(MostJointOhms / LeastJointOhms)),
            ohms => TreeState.TrySolve(plan, none with { JointNode = node, JointOhms = ohms }));
        weighing.Add(
            here with { Kind = FaultKind.OpenLoop }, priors.OpenLoop / count,
            TreeState.TrySolve(plan, none with { CutNode = node }));
        if (!(network.Ohms[node] > 0)) return;
        weighing.AddFamily(
            here with { Kind = FaultKind.CableLonger },
            priors.CableLength / 2 / count, 1.1, MostLengthFactor, 1.2,
            factor => 1 / (factor * Math.Log(MostLengthFactor / 1.1)), factor => Length(node, factor));
        weighing.AddFamily(
            here with { Kind = FaultKind.CableShorter },
            priors.CableLength / 2 / count, 1 / MostLengthFactor, 0.9, 0.8,
            factor => 1 / (factor * Math.Log(0.9 * MostLengthFactor)), factor => Length(node, factor));
    }

    // Where an extra fitting hangs hardly changes the readings; it is taken to be at the farthest fitting.
    private void WeighExtra(double[] catalogue)
    {
        var node = Array.FindLastIndex(network.Fitting, fitting => fitting >= 0);
        foreach (var watts in catalogue)
        {
            weighing.Add(
                Blank with { Kind = FaultKind.OneFittingTooMany, Figure = watts },
                options.Priors.OneFittingTooMany / catalogue.Length,
                Power(node, network.Watts[node] + watts));
        }
    }

    private void WeighDriver(TreeState sound)
    {
        var priors = options.Priors;
        var volts = none.DriverVolts;
        var others = options.DriverVoltsDc.OrEmpty()
            .Where(v => v is >= 0.1 and <= 1500 && v != volts).Distinct().Take(16).ToArray();
        foreach (var other in others)
        {
            weighing.Add(
                Blank with { Kind = FaultKind.WrongDriverOutput, Figure = other },
                priors.WrongDriverOutput / others.Length,
                TreeState.TrySolve(plan, none with { DriverVolts = other }));
        }

        weighing.Add(
            Blank with { Kind = FaultKind.DriverNoOutput }, priors.DriverNoOutput,
            Prediction.From(weighing.Readings, r => r.Quantity == MeasuredQuantity.VoltsDc ? (0, 0.3) : (0, 1)));
        // With its cores touching the circuit takes all that the driver gives, at next to no voltage, or the driver
        // trips.
        var most = 1000 * (model.Driver.MostAmps ?? (model.Driver.MostWatts / volts) ?? (3 * sound.DriverAmps));
        weighing.Add(
            Blank with { Kind = FaultKind.ShortBetweenCores }, priors.ShortBetweenCores,
            Prediction.From(weighing.Readings, r =>
                r.Quantity == MeasuredQuantity.VoltsDc ? (0, 0.05 * volts) : (most / 2, most / Math.Sqrt(12))));
        if (model.Driver.MostAmps is null && model.Driver.MostWatts is null) return;
        // At its current limit the driver's voltage sags, how far is open.
        weighing.Add(
            Blank with { Kind = FaultKind.DriverAtLimit }, priors.DriverAtLimit,
            Prediction.From(weighing.Readings, r => r switch
            {
                { Quantity: MeasuredQuantity.Milliamps } => (most, 0.05 * most),
                { Place: CircuitModel.DriverNode } => (0.75 * volts, 0.5 * volts / Math.Sqrt(12)),
                _ => (double.NaN, 0),
            }));
    }

    private TreeState? Power(int node, double watts) =>
        TreeState.TrySolve(plan, none with { PowerNode = node, Watts = watts });

    private TreeState? Length(int node, double factor) =>
        TreeState.TrySolve(plan, none with { LengthNode = node, LengthFactor = factor });
}
