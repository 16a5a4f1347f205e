namespace FleetLight.Electrics;

/// <summary>The cable runs of a circuit with the changes that are about them.</summary>
internal sealed class CableSet
{
    private const double MostFactor = 1e6;
    private const double MostOhms = 1e12;

    private readonly CircuitModel model;
    private readonly Assumptions assumptions;
    private readonly CableSet? recorded;
    private Change[]? changes;

    /// <summary>The runs as recorded.</summary>
    public CableSet(CircuitModel model, Assumptions assumptions)
    {
        this.model = model;
        this.assumptions = assumptions;
        Cables = new Cable[model.Runs.Length];
        for (var r = 0; r < Cables.Length; r++) Cables[r] = new Cable(model.Runs[r], assumptions);
        Tails = new Cable[model.Fittings.Length];
        for (var i = 0; i < Tails.Length; i++)
            if (model.Fittings[i].Tail is { } tail) Tails[i] = new Cable(tail, assumptions);
    }

    private CableSet(CableSet recorded)
    {
        this.recorded = recorded;
        model = recorded.model;
        assumptions = recorded.assumptions;
        Cables = recorded.Cables;
        Tails = recorded.Tails;
    }

    /// <summary>The runs; one that is broken keeps its resistance.</summary>
    public Cable[] Cables { get; private set; }

    /// <summary>The tail of each fitting; without resistance where it has none.</summary>
    public Cable[] Tails { get; }

    /// <summary>Resistance of a joint at the driver that is not recorded, Ω.</summary>
    public double DriverJointOhms { get; private set; }

    /// <summary>Whether a core is broken at the driver.</summary>
    public bool IsOpenAtDriver { get; private set; }

    /// <summary>Whether any recorded run is broken.</summary>
    public bool HasOpen { get; private set; }

    /// <summary>The runs as recorded, to be changed.</summary>
    public CableSet Copy() => new(this);

    /// <summary>Whether a core of a run is broken.</summary>
    public bool IsOpen(int run) => changes is not null && changes[run].IsOpen;

    /// <summary>What a fault adds to one core of a run, Ω; infinite where it is broken, 0 where there is none.</summary>
    public double OhmsInOneCore(int run) =>
        changes is null ? 0 : changes[run].IsOpen ? double.PositiveInfinity : changes[run].JointOhms;

    /// <summary>Takes a change in if it is about a run. False where it names none or a figure cannot be.</summary>
    public bool TryTake(CircuitChange change)
    {
        switch (change)
        {
            case RunOpen open when open.Run == -1:
                return IsOpenAtDriver = true;
            case RunOpen open when IsRun(open.Run):
                Changed()[open.Run].IsOpen = true;
                return HasOpen = true;
            case RunJointOhms joint when joint.Ohms is >= 0 and <= MostOhms && joint.Run == -1:
                DriverJointOhms += joint.Ohms;
                return true;
            case RunJointOhms joint when joint.Ohms is >= 0 and <= MostOhms && IsRun(joint.Run):
                Changed()[joint.Run].JointOhms += joint.Ohms;
                Renew(joint.Run);
                return true;
            case RunLengthFactor length when length.Factor is > 0 and <= MostFactor:
                return ForEach(length.Run, r => Changed()[r].LengthFactor *= length.Factor);
            case RunHasArea area when ConductorResistance.StandardAreasSquareMillimetres
                .Contains(area.AreaSquareMillimetres):
                return ForEach(area.Run, r => Changed()[r].Area = area.AreaSquareMillimetres);
            default:
                return false;
        }
    }

    private bool IsRun(int run) => run >= 0 && run < Cables.Length;

    private bool ForEach(int run, Action<int> change)
    {
        if (run != -1 && !IsRun(run)) return false;
        var last = run == -1 ? Cables.Length - 1 : run;
        for (var r = Math.Max(0, run); r <= last; r++)
        {
            change(r);
            Renew(r);
        }

        return true;
    }

    private Change[] Changed()
    {
        if (changes is not null) return changes;
        changes = new Change[Cables.Length];
        Array.Fill(changes, new Change { LengthFactor = 1 });
        if (Cables == recorded?.Cables) Cables = [.. Cables];
        return changes;
    }

    private void Renew(int run)
    {
        var change = changes![run];
        var recordedRun = model.Runs[run];
        Cables[run] = new Cable(
            recordedRun, assumptions, change.LengthFactor, change.Area ?? recordedRun.AreaSquareMillimetres,
            recordedRun.JointOhms + change.JointOhms);
    }

    private struct Change
    {
        public double LengthFactor;
        public double? Area;
        public double JointOhms;
        public bool IsOpen;
    }
}
