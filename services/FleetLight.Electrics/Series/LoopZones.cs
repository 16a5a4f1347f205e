namespace FleetLight.Electrics;

/// <summary>Cuts a loop into zones of one current each.</summary>
internal sealed class LoopZones
{
    private readonly LoopBuilt built;
    private readonly int[]? partZones;
    private readonly int[]? runZones;

    public LoopZones(LoopBuilt built)
    {
        this.built = built;
        All = Cut(built);
        if (All.Length > 1)
        {
            partZones = new int[built.Parts.Length];
            for (var i = 0; i < partZones.Length; i++) partZones[i] = At(built.Parts[i].Position);
            runZones = new int[built.RunOhms.Length];
            for (var r = 0; r < runZones.Length; r++) runZones[r] = Before(built.Layout.RunPosition[r]);
        }

        Sum();
    }

    /// <summary>The zones; each after the one that feeds it.</summary>
    public LoopZone[] All { get; }

    /// <summary>The zone of a fitting.</summary>
    public int OfPart(int part) => partZones is null ? 0 : partZones[part];

    /// <summary>How much of a run belongs to a zone, 0 to 1.</summary>
    public double ShareOfRun(int run, int zone) =>
        !built.Layout.IsKnown ? All[zone].CableShare
        : runZones is null || runZones[run] == zone ? 1
        : 0;

    /// <summary>The zone that what stands at a position belongs to.</summary>
    public int At(int position)
    {
        var zone = All.Length - 1;
        while (zone > 0 && !(All[zone].Start <= position && position < All[zone].End)) zone--;
        return zone;
    }

    /// <summary>The zone of the cable that leads to a position.</summary>
    public int Before(int position)
    {
        var zone = All.Length - 1;
        while (zone > 0 && !(All[zone].Start < position && position < All[zone].End)) zone--;
        return zone;
    }

    private static LoopZone[] Cut(LoopBuilt built)
    {
        var layout = built.Layout;
        var zones = new List<LoopZone>(1 + built.Bridges.Count)
        {
            new() { Start = -1, End = layout.Count, Parent = -1, CableShare = 1 },
        };
        foreach (var (position, ohms) in built.Bridges.OrderBy(bridge => bridge.Position))
        {
            var last = zones[^1];
            if (last.Start == position)
            {
                // Two connections at one place are in parallel.
                last.BridgeOhms = last.BridgeOhms + ohms > 0 ? last.BridgeOhms * ohms / (last.BridgeOhms + ohms) : 0;
                zones[^1] = last;
                continue;
            }

            var parent = zones.Count - 1;
            while (position >= zones[parent].End) parent = zones[parent].Parent;
            zones.Add(new LoopZone
            {
                Start = position,
                End = layout.End[position],
                Parent = parent,
                BridgeOhms = ohms,
                CableShare = ShareBeyond(position, layout),
            });
        }

        var cut = zones.ToArray();
        for (var z = 1; z < cut.Length; z++) cut[cut[z].Parent].CableShare -= ShareBeyond(cut[z].Start, layout);
        return cut;
    }

    // The fittings stand in the middles of equal lengths of cable.
    private static double ShareBeyond(int position, LoopLayout layout) =>
        position == 0 ? 1 : 1 - ((position - 0.5) / (layout.Count - 1));

    private void Sum()
    {
        for (var i = 0; i < built.Parts.Length; i++)
        {
            ref var zone = ref All[OfPart(i)];
            zone.Ohms += built.Parts[i].TailOhms;
            if (built.Parts[i].Kind is LoopPartKind.Open or LoopPartKind.Blocked) zone.Breaks++;
        }

        for (var z = 0; z < All.Length; z++)
            for (var r = 0; r < built.RunOhms.Length; r++) All[z].Ohms += built.RunOhms[r] * ShareOfRun(r, z);
        All[0].Ohms += built.Cables.DriverJointOhms;
        if (built.Cables.IsOpenAtDriver) All[0].Breaks++;
        if (!built.Cables.HasOpen) return;
        for (var r = 0; r < built.RunOhms.Length; r++)
            if (built.Cables.IsOpen(r)) All[Before(built.Layout.RunPosition[r])].Breaks++;
    }
}
