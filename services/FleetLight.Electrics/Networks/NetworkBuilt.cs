using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>A constant-voltage network with its changes, and with its inputs where they are.</summary>
internal sealed class NetworkBuilt : BuiltCircuit
{
    /// <summary>Resistance of a dead short or a diode beyond its threshold, Ω.</summary>
    public const double ShortOhms = 1e-6;

    /// <summary>
    /// Resistance that stands for none, Ω: the two nodes at its ends are one to all digits. A power of two, so that
    /// dividing by it is exact.
    /// </summary>
    private const double LeastOhms = 1.0 / (1L << 60);

    private Dictionary<int, RingCores>? faultyCores;

    public NetworkBuilt(CircuitModel model, Assumptions assumptions, NetworkLayout layout, CableSet recorded)
        : base(model, assumptions, recorded)
    {
        Layout = layout;
        DriverVolts = model.Driver.RatedVolts.GetValueOrDefault();
        Loads = new NetworkLoad[model.Fittings.Length];
        for (var i = 0; i < Loads.Length; i++)
        {
            var fitting = model.Fittings[i];
            Loads[i] = new NetworkLoad
            {
                Kind = NetworkLoad.KindOf(fitting.Load),
                Node = layout.LoadNode[i],
                Fitting = i,
                Watts = fitting.RatedWatts,
                Volts = DriverVolts,
                LeastVolts = fitting.LeastVolts ?? UnknownLeast(fitting.Load) * DriverVolts,
                Relative = fitting.TolerancePercent / 100 / Root3,
                Input = Input.FirstFitting + i,
                Curve = assumptions.Led,
            };
        }
    }

    /// <summary>The nodes and branches.</summary>
    public NetworkLayout Layout { get; }

    /// <summary>The fittings of the model, then what is not in it.</summary>
    public NetworkLoad[] Loads { get; private set; }

    /// <summary>Resistance of each branch with the inputs as they are, Ω; infinite where it is broken.</summary>
    public double[] BranchOhms { get; private set; } = [];

    /// <summary>The run of a branch where it has a fault in one core and lies in a ring.</summary>
    public RingCores? FaultyCoresOf(int branch) => faultyCores?.GetValueOrDefault(branch);

    /// <summary>The voltage that the driver is set to, V.</summary>
    public double DriverVolts { get; private set; }

    /// <summary>
    /// The cable of a branch, and the position of its length among the inputs; −1 where that is exact.
    /// </summary>
    public (Cable Cable, int LengthInput) CableOf(int branch)
    {
        var run = branch - NetworkLayout.FirstRunBranch;
        if (run < 0) return (default, -1);
        return run < Cables.Cables.Length
            ? (Cables.Cables[run], Input.OfRun(Model, run))
            : (Cables.Tails[Layout.TailFitting[run - Cables.Cables.Length]], -1);
    }

    /// <summary>Puts the inputs where they are and works out what follows from the changes together.</summary>
    public void Close(ReadOnlySpan<double> deviations)
    {
        var warmer = RelativeTemperature * At(deviations, Input.FittingTemperature);
        for (var i = 0; i < Loads.Length; i++)
        {
            ref var load = ref Loads[i];
            // A fitting whose plus and minus are exchanged is taken to stay dark; a filament does not mind.
            if (IsReversed && load.Kind is not (DrawKind.Resistance or DrawKind.None)
                && !(load.Kind == DrawKind.Shunt && load.Volts == 0)) load.Kind = DrawKind.None;
            if (load.Kind == DrawKind.Shunt) continue;
            var factor = Math.Max(0, 1 + (load.Relative * At(deviations, load.Input)));
            if (load.Kind == DrawKind.String) load.Volts *= Math.Max(1e-9, factor + warmer);
            else load.Watts *= factor;
        }

        BranchOhms = new double[Layout.Branches.Length];
        BranchOhms[0] = Cables.IsOpenAtDriver ? double.PositiveInfinity : Math.Max(LeastOhms, Cables.DriverJointOhms);
        for (var b = 1; b < BranchOhms.Length; b++)
        {
            var (cable, lengthInput) = CableOf(b);
            BranchOhms[b] = Math.Max(LeastOhms, cable.OhmsAt(deviations, lengthInput));
        }

        if (IsChanged) TakeFaultsInOneCore();
        DriverVolts *= Math.Max(1e-9, 1 + (DriverRelative * At(deviations, Input.DriverOutput)));
        if (IsDead) DriverVolts = 0;
    }

    private void TakeFaultsInOneCore()
    {
        var whole = BranchOhms;
        BranchOhms = [.. whole];
        for (var r = 0; r < Cables.Cables.Length; r++)
        {
            if (Cables.OhmsInOneCore(r) is not (> 0 and var more)) continue;
            var branch = NetworkLayout.FirstRunBranch + r;
            if (double.IsFinite(more)) whole[branch] = Math.Max(LeastOhms, whole[branch] - more);
            if (Model.Runs[r].ConductorsInLoop != 2)
            {
                BranchOhms[branch] = whole[branch] + more;
                continue;
            }

            var cores = RingCores.Of(Layout, whole, branch, more);
            BranchOhms[branch] = cores.Ohms;
            if (cores.ByBranch is not null) (faultyCores ??= [])[branch] = cores;
        }
    }

    /// <inheritdoc/>
    protected override bool? TryTakeOwn(CircuitChange change)
    {
        switch (change)
        {
            case FittingHasWatts(var fitting, var watts) when IsFitting(fitting) && CircuitCheck.IsWattage(watts):
                if (Loads[fitting].Kind == DrawKind.String) Loads[fitting].Amps *= watts / Loads[fitting].Watts;
                Loads[fitting].Watts = watts;
                return true;
            case FittingBypassed(var fitting, var volts) when IsFitting(fitting) && volts is >= 0 and <= 1500:
                Loads[fitting].Kind = DrawKind.Shunt;
                Loads[fitting].Volts = volts;
                Loads[fitting].Siemens = 1 / ShortOhms;
                Loads[fitting].LeastVolts = 0;
                return true;
            case FittingOpen(var fitting) when IsFitting(fitting):
                Loads[fitting].Kind = DrawKind.None;
                return true;
            case FittingForOtherDrive(var fitting, var volts) when IsFitting(fitting) && volts is >= 0.001 and <= 1500:
                Loads[fitting].Kind = DrawKind.String;
                Loads[fitting].Volts = volts;
                Loads[fitting].Amps = Loads[fitting].Watts / volts;
                Loads[fitting].LeastVolts = 0;
                return true;
            case FittingAdded(var node, var watts) when CircuitCheck.IsWattage(watts):
                return TryAdd(node, watts);
            case CoresBridged(var node, var ohms) when ohms is >= 0 and <= 1e12 && Layout.NodeOf(node) >= 0:
                Add(new NetworkLoad
                {
                    Kind = DrawKind.Shunt,
                    Node = Layout.NodeOf(node),
                    Fitting = -1,
                    Siemens = 1 / Math.Max(ShortOhms, ohms),
                });
                return true;
            case DriverGives(var volts) when volts is >= 0.001 and <= 1500:
                DriverVolts = volts;
                return true;
            default:
                return null;
        }
    }

    private static double UnknownLeast(LoadKind kind) =>
        NetworkLoad.KindOf(kind) == DrawKind.Power ? NetworkLoad.LeastShare : 0;

    // Where no node is named it hangs at the last fitting of the model.
    private bool TryAdd(string? node, double watts)
    {
        var at = node is null ? Layout.FittingNode[^1] : Layout.NodeOf(node);
        if (at < 0) return false;
        Add(new NetworkLoad
        {
            Kind = DrawKind.Power,
            Node = at,
            Fitting = -1,
            Watts = watts,
            Volts = Model.Driver.RatedVolts.GetValueOrDefault(),
            LeastVolts = NetworkLoad.LeastShare * Model.Driver.RatedVolts.GetValueOrDefault(),
            Relative = Model.Fittings.Max(fitting => fitting.TolerancePercent) / 100 / Root3,
            Input = Input.OfAdded(Model),
        });
        return true;
    }

    private void Add(NetworkLoad load) => Loads = [.. Loads, load];
}
