using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>
/// A circuit as it is found in the ground: its record and the changes put together, in ohms, volts, amps and watts.
/// </summary>
internal sealed class AsFound
{
    private readonly double[] factors;
    private readonly double[] areas;
    private readonly double[] addedOhms;

    public AsFound(CircuitModel model, Assumptions assumptions, ImmutableArray<CircuitChange> changes)
    {
        (Model, Assumptions) = (model, assumptions);
        var driver = model.Driver;
        DriverValue = (model.Drive == DriveKind.ConstantCurrent ? driver.RatedMilliamps : driver.RatedVolts)!.Value;
        Fittings = [.. model.Fittings.Select(fitting => new FoundFitting(fitting.Id, fitting))];
        Broken = new bool[model.Runs.Length];
        factors = [.. model.Runs.Select(_ => 1.0)];
        areas = [.. model.Runs.Select(run => run.AreaSquareMillimetres)];
        addedOhms = new double[model.Runs.Length];
        foreach (var change in changes) Take(change);
    }

    public CircuitModel Model { get; }

    public Assumptions Assumptions { get; }

    /// <summary>The fittings of the record in its order, then those that are not in it.</summary>
    public List<FoundFitting> Fittings { get; }

    /// <summary>Whether a core of each run is broken.</summary>
    public bool[] Broken { get; }

    public bool IsBrokenAtDriver { get; private set; }

    /// <summary>Resistance of a joint at the driver, Ω.</summary>
    public double DriverJointOhms { get; private set; }

    public List<(string Node, double Ohms)> Bridges { get; } = [];

    /// <summary>What the driver is set to: mA or V.</summary>
    public double DriverValue { get; private set; }

    public bool IsDead { get; private set; }

    public bool IsReversed { get; private set; }

    /// <summary>Resistance of one conductor of a run, with its share of the recorded joints, Ω.</summary>
    public double ConductorOhms(int run)
    {
        var recorded = Model.Runs[run];
        var celsius = recorded.ConductorCelsius ?? Celsius(recorded.Surroundings);
        return Copper.Ohms(
            recorded.ConductorClass, areas[run], factors[run] * recorded.LengthMetres, celsius,
            Assumptions.ConductorBelowMaximumPercent) + (recorded.JointOhms / recorded.ConductorsInLoop);
    }

    /// <summary>Resistance of a joint in one core of a run that is not recorded, Ω.</summary>
    public double AddedJointOhms(int run) => addedOhms[run];

    /// <summary>Resistance of one conductor of a fitting's tail, which is taken to lie in the ground, Ω.</summary>
    public double TailOhms(FoundFitting fitting) => fitting.Recorded?.Tail is { } tail
        ? Copper.Ohms(
            tail.ConductorClass, tail.AreaSquareMillimetres, tail.LengthMetres, Assumptions.Buried.Celsius,
            Assumptions.ConductorBelowMaximumPercent)
        : 0;

    /// <summary>The nodes that the runs name.</summary>
    public IEnumerable<string> Nodes => Model.Runs.SelectMany(run => new[] { run.From, run.To }).Distinct();

    /// <summary>Whether whole cores lead from the driver to a node.</summary>
    public bool IsFed(string node)
    {
        if (IsBrokenAtDriver) return false;
        var reached = new HashSet<string> { CircuitModel.DriverNode };
        for (var before = 0; before < reached.Count;)
        {
            before = reached.Count;
            for (var r = 0; r < Broken.Length; r++)
            {
                var run = Model.Runs[r];
                if (!Broken[r] && (reached.Contains(run.From) || reached.Contains(run.To)))
                    reached.UnionWith([run.From, run.To]);
            }
        }

        return reached.Contains(node);
    }

    private double Celsius(RunSurroundings where) => where switch
    {
        RunSurroundings.InAir => Assumptions.InAir.Celsius,
        RunSurroundings.WarmBox => Assumptions.WarmBox.Celsius,
        _ => Assumptions.Buried.Celsius,
    };

    private void Take(CircuitChange change)
    {
        switch (change)
        {
            case FittingHasWatts it: Fittings[it.Fitting].Watts = it.Watts; break;
            case FittingBypassed it: Fittings[it.Fitting].BypassVolts = it.Volts; break;
            case FittingOpen it: Fittings[it.Fitting].IsOpen = true; break;
            case FittingForOtherDrive it: Fittings[it.Fitting].OtherDriveVolts = it.RatedVolts; break;
            case FittingAdded it:
                Fittings.Add(new FoundFitting(it.Node ?? Model.Fittings[^1].Id, null) { Watts = it.Watts });
                break;
            case RunOpen { Run: -1 }: IsBrokenAtDriver = true; break;
            case RunOpen it: Broken[it.Run] = true; break;
            case RunJointOhms { Run: -1 } it: DriverJointOhms += it.Ohms; break;
            case RunJointOhms it: addedOhms[it.Run] += it.Ohms; break;
            case RunLengthFactor it: ForRuns(it.Run, r => factors[r] *= it.Factor); break;
            case RunHasArea it: ForRuns(it.Run, r => areas[r] = it.AreaSquareMillimetres); break;
            case CoresBridged it: Bridges.Add((it.Node, it.Ohms)); break;
            case DriverGives it: DriverValue = it.Value; break;
            case DriverDead: IsDead = true; break;
            case SupplyReversed: IsReversed = !IsReversed; break;
            default: throw new ArgumentException($"What {change} does to a circuit is not written down here.");
        }
    }

    private void ForRuns(int run, Action<int> change)
    {
        for (var r = 0; r < factors.Length; r++)
            if (run == -1 || run == r) change(r);
    }
}

/// <summary>A fitting as found.</summary>
/// <param name="node">The node it hangs on.</param>
/// <param name="recorded">What is recorded of it; null where it is not in the record.</param>
internal sealed class FoundFitting(string node, FittingModel? recorded)
{
    public string Node => node;

    public FittingModel? Recorded => recorded;

    /// <summary>Its power, W.</summary>
    public double Watts { get; set; } = recorded?.RatedWatts ?? 0;

    /// <summary>What stays across it where the current passes it by, V.</summary>
    public double? BypassVolts { get; set; }

    public bool IsOpen { get; set; }

    /// <summary>The rated voltage of one made for the other kind of drive, V.</summary>
    public double? OtherDriveVolts { get; set; }

    /// <summary>
    /// The volts below which it goes dark, V; 0 for none. One of constant power of which they are not recorded is taken
    /// to need half of the circuit's rated volts; our own assumption.
    /// </summary>
    public double LeastVolts(double ratedVolts) =>
        !IsAsMade ? 0 : recorded?.LeastVolts ?? (IsOfConstantPower ? 0.5 * ratedVolts : 0);

    /// <summary>Whether it draws a constant power on constant voltage.</summary>
    public bool IsOfConstantPower => IsAsMade && (recorded is null || recorded.Load == LoadKind.ConstantPower);

    private bool IsAsMade => BypassVolts is null && OtherDriveVolts is null;
}
