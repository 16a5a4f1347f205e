namespace FleetLight.Electrics;

/// <summary>How what a loop reads depends on its uncertain inputs, to first order.</summary>
/// <remarks>
/// The currents answer the inputs through the loop's equations: one for what the driver holds, and one per connection
/// between the cores. One small linear solution per quantity (the adjoint) follows all inputs at once.
/// </remarks>
internal sealed class LoopSensitivity(
    CircuitModel model, LoopBuilt built, LoopZones zones, DriverLimits limits, LoopHold hold)
{
    private const int Most = SeriesPlan.MostBridges + 1;

    /// <summary>Sums the volts of a zone's parts from a position to before another.</summary>
    /// <param name="index">The zone.</param>
    /// <param name="from">First position; the cable that leads to it is not counted. −1 for everything.</param>
    /// <param name="end">First position after the last.</param>
    /// <param name="weight">Factor on what is added to the two spans.</param>
    /// <param name="byAmps">Receives the change with each zone's current.</param>
    /// <param name="parts">Receives the change with each input at fixed currents; empty for none.</param>
    public double Sum(int index, int from, int end, double weight, Span<double> byAmps, Span<double> parts)
    {
        var zone = zones.All[index];
        double volts = 0, slope = 0;
        for (var i = 0; i < built.Parts.Length; i++)
        {
            var part = built.Parts[i];
            if (zones.OfPart(i) != index || part.Position < from || part.Position >= end) continue;
            volts += part.VoltsAt(zone.Amps) + (zone.Amps * part.TailOhms);
            slope += part.SlopeAt(zone.Amps) + part.TailOhms;
            AddPart(parts, part, zone.Amps, weight);
        }

        var ohms = RunOhms(index, from, end);
        AddCables(parts, index, from, end, weight * zone.Amps);
        byAmps[index] += weight * (slope + ohms);
        for (var child = index + 1; child < zones.All.Length; child++)
        {
            var beyond = zones.All[child];
            if (beyond.Parent != index || beyond.Start < from || beyond.Start >= end) continue;
            volts += beyond.Volts;
            byAmps[index] += weight * beyond.BridgeOhms;
            byAmps[child] -= weight * beyond.BridgeOhms;
        }

        return volts + (ohms * zone.Amps);
    }

    /// <summary>Adds how a fitting's own volts, times a weight, depend on the inputs at a fixed current.</summary>
    public void AddPart(Span<double> parts, in LoopPart part, double amps, double weight)
    {
        if (parts.IsEmpty || part.Kind != LoopPartKind.String) return;
        Add(parts, part, weight * part.VoltsAt(amps));
    }

    /// <summary>Adds how a fitting's volts at its stated current, times a weight, depend on the inputs.</summary>
    public void AddAtRated(Span<double> parts, in LoopPart part, double weight)
    {
        if (part.Kind == LoopPartKind.String) Add(parts, part, weight * part.Volts);
    }

    /// <summary>Adds how the cable and tails of a zone between two positions depend on the inputs.</summary>
    public void AddCables(Span<double> parts, int index, int from, int end, double perOhm)
    {
        if (parts.IsEmpty || perOhm == 0) return;
        for (var i = 0; i < built.Parts.Length; i++)
        {
            var part = built.Parts[i];
            if (part.TailOhms > 0 && zones.OfPart(i) == index && part.Position >= from && part.Position < end)
                part.Tail.AddTo(parts, -1, perOhm);
        }

        for (var r = 0; r < built.RunOhms.Length; r++)
        {
            var share = IsBetween(r, from, end) ? zones.ShareOfRun(r, index) : 0;
            if (share > 0) built.Cables.Cables[r].AddTo(parts, Input.OfRun(model, r), perOhm * share);
        }
    }

    /// <summary>Adds what the inputs do to a quantity by way of the currents.</summary>
    /// <param name="byAmps">Change of the quantity with each zone's current; overwritten.</param>
    /// <param name="parts">Receives the change with each input; empty for none.</param>
    public void Follow(Span<double> byAmps, Span<double> parts)
    {
        if (parts.IsEmpty || hold is LoopHold.Open or LoopHold.Nothing || !(zones.All[0].Amps > 0)) return;
        var count = zones.All.Length;
        Span<double> jacobian = stackalloc double[Most * Most];
        jacobian.Clear();
        Fill(jacobian, count);
        SolveTransposed(jacobian, byAmps, count);
        var root = zones.All[0];
        Span<double> ignored = stackalloc double[Most];
        if (hold == LoopHold.Current)
        {
            parts[Input.DriverOutput] += byAmps[0] * built.Amps * built.DriverRelative;
        }
        else
        {
            var scale = hold == LoopHold.Watts ? root.Amps : 1;
            Sum(0, -1, root.End, -byAmps[0] * scale, ignored, parts);
            parts[Input.DriverOutput] += byAmps[0] * (hold == LoopHold.Watts ? limits.WattsPart : limits.VoltsPart);
        }

        for (var z = 1; z < count; z++)
            if (zones.All[z].Amps > 0) Sum(z, -1, zones.All[z].End, -byAmps[z], ignored, parts);
    }

    // Row z is the equation of zone z, column c the current of zone c.
    private void Fill(Span<double> jacobian, int count)
    {
        var all = zones.All;
        for (var z = 0; z < count; z++)
        {
            var row = jacobian.Slice(z * count, count);
            if ((z == 0 && hold == LoopHold.Current) || !(all[z].Amps > 0))
            {
                row[z] = 1;
                continue;
            }

            row[z] = all[z].Slope + (z > 0 ? all[z].BridgeOhms : 0);
            if (z > 0) row[all[z].Parent] = -all[z].BridgeOhms;
            for (var child = z + 1; child < count; child++)
            {
                if (all[child].Parent != z) continue;
                row[z] += all[child].BridgeOhms;
                row[child] -= all[child].BridgeOhms;
            }

            if (z > 0 || hold != LoopHold.Watts) continue;
            foreach (ref var entry in row) entry *= all[0].Amps;
            row[0] += all[0].Volts;
        }
    }

    // Gaussian elimination on the transposed matrix; the rows are diagonally dominant enough to need no pivoting.
    private static void SolveTransposed(Span<double> matrix, Span<double> right, int count)
    {
        for (var k = 0; k < count; k++)
        {
            for (var i = k + 1; i < count; i++)
            {
                var factor = matrix[(k * count) + i] / matrix[(k * count) + k];
                for (var j = k; j < count; j++) matrix[(j * count) + i] -= factor * matrix[(j * count) + k];
                right[i] -= factor * right[k];
            }
        }

        for (var k = count - 1; k >= 0; k--)
        {
            for (var j = k + 1; j < count; j++) right[k] -= matrix[(j * count) + k] * right[j];
            right[k] /= matrix[(k * count) + k];
        }
    }

    private void Add(Span<double> parts, in LoopPart part, double volts)
    {
        parts[part.Input] += volts * part.Relative;
        parts[Input.FittingTemperature] += volts * built.RelativeTemperature;
    }

    private double RunOhms(int index, int from, int end)
    {
        double ohms = from < 0 && index == 0 ? built.Cables.DriverJointOhms : 0;
        for (var r = 0; r < built.RunOhms.Length; r++)
            if (IsBetween(r, from, end)) ohms += built.RunOhms[r] * zones.ShareOfRun(r, index);
        return ohms;
    }

    private bool IsBetween(int run, int from, int end)
    {
        if (from < 0) return true;
        var position = built.Layout.RunPosition[run];
        return position > from && position < end;
    }
}
