namespace FleetLight.Electrics;

/// <summary>A radial circuit laid out once, from which versions with a fault are made.</summary>
internal sealed class TreePlan
{
    private readonly CircuitModel model;
    private readonly Cable[] cables;

    private TreePlan(CircuitModel model, TreeNetwork network, Cable[] cables)
    {
        this.model = model;
        this.cables = cables;
        Network = network;
        DriverTolerance = model.Driver.OutputTolerancePercent / 100 / Math.Sqrt(3);
    }

    /// <summary>The network as designed.</summary>
    public TreeNetwork Network { get; }

    /// <summary>Relative standard uncertainty of the driver's voltage.</summary>
    public double DriverTolerance { get; }

    public static TreePlan? TryLay(CircuitModel model, Assumptions assumptions, out CannotExpect? refusal)
    {
        var network = TreeNetwork.TryBuild(model, out refusal);
        if (network is null) return null;
        var runs = model.Runs.OrEmpty();
        var cables = new Cable[runs.Length];
        for (var r = 0; r < cables.Length; r++) cables[r] = new Cable(runs[r], assumptions);
        for (var n = 1; n < network.Count; n++) network.Ohms[n] = cables[network.Run[n]].Ohms;
        return new TreePlan(model, network, cables);
    }

    /// <summary>The cable that feeds a node.</summary>
    public Cable CableTo(int node) => cables[Network.Run[node]];

    /// <summary>Limit of the relative deviation of the power at a node.</summary>
    public double LoadTolerance(int node)
    {
        var fitting = Network.Fitting[node];
        return fitting >= 0 ? model.Fittings[fitting].TolerancePercent / 100 : 0;
    }

    /// <summary>The network with a fault in it.</summary>
    public TreeNetwork With(TreeFault fault)
    {
        if (fault.IsNone) return Network;
        var changed = Network.Copy();
        if (fault.PowerNode >= 0) changed.Watts[fault.PowerNode] = fault.Watts;
        if (fault.JointNode > 0) changed.Ohms[fault.JointNode] += fault.JointOhms;
        if (fault.LengthNode > 0) changed.Ohms[fault.LengthNode] *= fault.LengthFactor;
        if (fault.CutNode > 0)
        {
            for (var n = fault.CutNode; n < changed.Count; n++)
                if (IsBeyond(fault.CutNode, n)) changed.Watts[n] = 0;
        }

        return changed;
    }

    /// <summary>Whether a node is the cut node or is fed through it.</summary>
    public bool IsBeyond(int cut, int node)
    {
        if (cut <= 0) return false;
        while (node > cut) node = Network.Parent[node];
        return node == cut;
    }
}

/// <summary>One fault of a radial circuit; −1 stands for no node.</summary>
internal readonly record struct TreeFault(double DriverVolts)
{
    /// <summary>Node where the power differs.</summary>
    public int PowerNode { get; init; } = -1;

    /// <summary>Power taken there, W.</summary>
    public double Watts { get; init; }

    /// <summary>Node whose feeding run has a bad joint.</summary>
    public int JointNode { get; init; } = -1;

    /// <summary>Resistance of the joint, Ω.</summary>
    public double JointOhms { get; init; }

    /// <summary>Node whose feeding run is longer or shorter than recorded.</summary>
    public int LengthNode { get; init; } = -1;

    /// <summary>Multiple of the recorded length.</summary>
    public double LengthFactor { get; init; } = 1;

    /// <summary>Node whose feeding run is broken.</summary>
    public int CutNode { get; init; } = -1;

    /// <summary>Whether the network is as designed.</summary>
    public bool IsNone => PowerNode < 0 && JointNode < 0 && LengthNode < 0 && CutNode < 0;
}
