namespace FleetLight.Electrics;

/// <summary>How a constant-current driver holds its output.</summary>
internal enum LoopHold
{
    /// <summary>It gives its current.</summary>
    Current,

    /// <summary>At its greatest voltage.</summary>
    Volts,

    /// <summary>At its greatest power.</summary>
    Watts,

    /// <summary>No current can flow: its open output's voltage.</summary>
    Open,

    /// <summary>It gives nothing.</summary>
    Nothing,
}

/// <summary>Finds the currents of a loop.</summary>
/// <remarks>
/// The voltage of a zone rises with its current, and over the logarithm of the current it is convex (Shockley's
/// relation with resistances in series), so Newton's method in that logarithm falls monotonically to the only solution
/// from above. Where connections lie one within the other one solution asks for the next; a bracket guards each.
/// </remarks>
internal sealed class LoopSolver(LoopBuilt built, LoopZones zones)
{
    /// <summary>Currents below this share of the feeding one count as none.</summary>
    private const double LeastShare = 1e-12;

    private const int MostSteps = 200;
    private const double Settled = 1e-13;

    /// <summary>Newton steps taken by all solutions together.</summary>
    public int Steps { get; private set; }

    /// <summary>Solves the loop for a driver with these limits.</summary>
    public LoopHold Solve(double mostVolts, double mostWatts, double openVolts)
    {
        ref var root = ref zones.All[0];
        if (built.IsDead)
        {
            Darken(0, 0);
            return LoopHold.Nothing;
        }

        if (root.Breaks > 0)
        {
            Darken(0, openVolts);
            return LoopHold.Open;
        }

        var hold = LoopHold.Current;
        var volts = VoltsOf(0, built.Amps, out _);
        var most = built.Amps;
        if (volts > mostVolts)
        {
            hold = LoopHold.Volts;
            most = Find(most, amps => (VoltsOf(0, amps, out var slope) - mostVolts, slope));
            volts = most > 0 ? VoltsOf(0, most, out _) : mostVolts;
        }

        if (volts * most > mostWatts)
        {
            hold = LoopHold.Watts;
            most = Find(most, amps =>
            {
                var at = VoltsOf(0, amps, out var slope);
                return ((at * amps) - mostWatts, at + (slope * amps));
            });
        }

        if (most > 0) root.Volts = VoltsOf(0, most, out _);
        else Darken(0, mostVolts);
        return hold;
    }

    // Voltage of a zone at a current, with everything that it feeds solved for that current.
    private double VoltsOf(int index, double amps, out double slope)
    {
        ref var zone = ref zones.All[index];
        zone.Amps = amps;
        double volts = amps * zone.Ohms;
        slope = zone.Ohms;
        for (var i = 0; i < built.Parts.Length; i++)
        {
            if (zones.OfPart(i) != index) continue;
            volts += built.Parts[i].VoltsAt(amps);
            slope += built.Parts[i].SlopeAt(amps);
        }

        zone.Slope = slope;
        for (var child = index + 1; child < zones.All.Length; child++)
        {
            if (zones.All[child].Parent != index) continue;
            volts += BridgeVolts(child, amps, out var more);
            slope += more;
        }

        return volts;
    }

    // Voltage over a connection between the cores at the current that comes to it.
    private double BridgeVolts(int index, double amps, out double slope)
    {
        ref var zone = ref zones.All[index];
        var ohms = zone.BridgeOhms;
        slope = ohms;
        var within = zone.Breaks > 0 || !(ohms > 0) || !(amps > 0)
            ? 0
            : Find(amps, a => (VoltsOf(index, a, out var s) - (ohms * (amps - a)), s + ohms));
        zone.Volts = ohms * (amps - within);
        if (!(within > 0))
        {
            Darken(index, zone.Volts);
            return zone.Volts;
        }

        VoltsOf(index, within, out var inner);
        slope = ohms * inner / (ohms + inner);
        return zone.Volts;
    }

    private void Darken(int index, double volts)
    {
        for (var z = index; z < zones.All.Length; z++)
        {
            var inside = z == index || (zones.All[z].Start >= zones.All[index].Start
                && zones.All[z].Start < zones.All[index].End);
            if (!inside) continue;
            zones.All[z].Amps = zones.All[z].Slope = 0;
            zones.All[z].Volts = z == index ? volts : 0;
        }
    }

    // The current between zero and the greatest at which the rising function is zero; zero where there is none.
    private double Find(double most, Func<double, (double Value, double Slope)> function)
    {
        double low = double.NegativeInfinity, high = Math.Log(most), least = high + Math.Log(LeastShare);
        var at = high;
        for (var step = 0; step < MostSteps; step++)
        {
            Steps++;
            var amps = Math.Exp(at);
            var (value, slope) = function(amps);
            if (value == 0) return amps;
            if (value > 0) high = at;
            else low = at;
            // The least current that counts: where the function is not below zero there, nothing flows.
            if (high <= least) return 0;
            var change = value / (slope * amps);
            if (Math.Abs(change) < Settled) return Math.Exp(at - change);
            var next = Math.Max(least, at - change);
            at = next < high && next > low ? next : (Math.Max(low, least) + high) / 2;
        }

        return Math.Exp(at);
    }
}
