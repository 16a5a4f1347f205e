using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>The operating point of a series loop.</summary>
internal sealed class SeriesPoint : ICircuitState
{
    /// <summary>What a meter is taken to show of an open loop, Ω: more than any loop of the trade has.</summary>
    public const double OpenLoopOhms = 1e6;

    private readonly SeriesPlan plan;
    private readonly LoopBuilt built;
    private readonly LoopZones zones;
    private readonly DriverLimits limits;
    private readonly LoopSensitivity sensitivity;
    private readonly double sign;

    public SeriesPoint(SeriesPlan plan, LoopBuilt built, DriverLimits limits)
    {
        this.plan = plan;
        this.built = built;
        zones = new LoopZones(built);
        this.limits = limits;
        var solver = new LoopSolver(built, zones);
        Hold = solver.Solve(limits.MostVolts, limits.MostWatts, limits.OpenVolts);
        Iterations = solver.Steps;
        sign = built.IsReversed ? -1 : 1;
        sensitivity = new LoopSensitivity(plan.Model, built, zones, limits, Hold);
    }

    /// <summary>The zones of the loop with their currents.</summary>
    public LoopZones Zones => zones;

    /// <summary>The loop.</summary>
    public LoopBuilt Built => built;

    /// <summary>How the driver holds its output.</summary>
    public LoopHold Hold { get; }

    /// <summary>Newton steps taken; none where the driver simply gives its current.</summary>
    public int Iterations { get; }

    /// <summary>Current at the driver, A.</summary>
    public double DriverAmps => zones.All[0].Amps;

    /// <inheritdoc/>
    public int Inputs => plan.Inputs.Length;

    /// <inheritdoc/>
    public ImmutableArray<string> Places => plan.Places;

    /// <inheritdoc/>
    public double LitShare(int fitting)
    {
        var part = built.Parts[fitting];
        return part.Kind == LoopPartKind.String ? zones.All[zones.OfPart(fitting)].Amps / part.Amps : 0;
    }

    /// <inheritdoc/>
    public bool Predicts(string? place, MeasuredQuantity quantity)
    {
        if (place is null) return false;
        Span<double> none = [];
        return !double.IsNaN(Value(place, quantity, none));
    }

    /// <inheritdoc/>
    public double Predict(string place, MeasuredQuantity quantity, Span<double> parts)
    {
        parts.Clear();
        return Value(place, quantity, parts);
    }

    // Without room for parts only the value is worked out.
    private double Value(string place, MeasuredQuantity quantity, Span<double> parts)
    {
        if (quantity == MeasuredQuantity.LoopOhms)
            return place == CircuitModel.DriverNode ? Ohms(0, 1, parts) : double.NaN;
        if (quantity == MeasuredQuantity.Milliamps) return Milliamps(place, parts);
        if (quantity != MeasuredQuantity.VoltsDc) return double.NaN;
        if (place == CircuitModel.DriverNode) return DriverVolts(parts);
        if (plan.FittingAt(place) is >= 0 and var fitting) return FittingVolts(fitting, parts);
        var position = built.Layout.PositionOf(place);
        return built.Layout.Tells(position) ? BoxVolts(position, parts) : double.NaN;
    }

    private double Milliamps(string place, Span<double> parts)
    {
        var zone = 0;
        if (zones.All.Length > 1 && place != CircuitModel.DriverNode)
        {
            // Through a fitting flows what flows where it sits, at a box what comes to it.
            var fitting = plan.FittingAt(place);
            var position = built.Layout.PositionOf(place);
            if (position < 0) return double.NaN;
            zone = fitting >= 0 ? zones.OfPart(fitting) : zones.Before(position);
        }

        Span<double> byAmps = stackalloc double[SeriesPlan.MostBridges + 1];
        byAmps.Clear();
        byAmps[zone] = 1000 * sign;
        sensitivity.Follow(byAmps, parts);
        return 1000 * sign * zones.All[zone].Amps;
    }

    private double DriverVolts(Span<double> parts)
    {
        if (Hold == LoopHold.Nothing) return 0;
        if (!parts.IsEmpty)
        {
            if (Hold == LoopHold.Open) parts[Input.DriverOutput] = sign * limits.OpenPart;
            else if (Hold == LoopHold.Volts) parts[Input.DriverOutput] = sign * limits.VoltsPart;
            else Sum(0, -1, zones.All[0].End, parts);
        }

        return sign * zones.All[0].Volts;
    }

    private double FittingVolts(int fitting, Span<double> parts)
    {
        var part = built.Parts[fitting];
        var index = zones.OfPart(fitting);
        var zone = zones.All[index];
        if (zone.Amps > 0)
        {
            Span<double> byAmps = stackalloc double[SeriesPlan.MostBridges + 1];
            byAmps.Clear();
            byAmps[index] = sign * part.SlopeAt(zone.Amps);
            sensitivity.AddPart(parts, part, zone.Amps, sign);
            sensitivity.Follow(byAmps, parts);
            return sign * part.VoltsAt(zone.Amps);
        }

        if (zone.Breaks > 0)
        {
            var breaks = part.Kind is LoopPartKind.Open or LoopPartKind.Blocked ? 1 : 0;
            return Across(index, breaks, part.Kind == LoopPartKind.Blocked, parts);
        }

        return Share(index, other => other == fitting, parts);
    }

    // Between the cores: the volts of everything beyond, the cable that leads here excluded.
    private double BoxVolts(int position, Span<double> parts)
    {
        var index = zones.At(position);
        var zone = zones.All[index];
        if (zone.Start == position) return Fed(index, 1, parts);
        if (zone.Amps > 0) return Sum(index, position, built.Layout.End[position], parts);
        var end = built.Layout.End[position];
        if (zone.Breaks == 0)
            return Share(index, i => built.Parts[i].Position >= position && built.Parts[i].Position < end, parts);
        var (breaks, blocked) = Beyond(index, position);
        return Across(index, breaks, blocked, parts);
    }

    // Breaks in a zone beyond a position.
    private (int Breaks, bool AreBlocked) Beyond(int zone, int position)
    {
        var breaks = 0;
        var blocked = false;
        var end = built.Layout.End[position];
        for (var i = 0; i < built.Parts.Length; i++)
        {
            var part = built.Parts[i];
            if (zones.OfPart(i) != zone || part.Position < position || part.Position >= end) continue;
            blocked |= part.Kind == LoopPartKind.Blocked;
            if (part.Kind is LoopPartKind.Open or LoopPartKind.Blocked) breaks++;
        }

        for (var r = 0; built.Cables.HasOpen && r < built.RunOhms.Length; r++)
        {
            var at = built.Layout.RunPosition[r];
            if (built.Cables.IsOpen(r) && at > position && at < end && zones.Before(at) == zone) breaks++;
        }

        return (breaks, blocked);
    }

    // In a broken zone its voltage stands across all breaks together; how blocked strings share it is not known, and of
    // two breaks each alone shows nothing, because the other keeps the meter's current away.
    private double Across(int zone, int breaks, bool blocked, Span<double> parts) =>
        breaks == zones.All[zone].Breaks ? Fed(zone, 1, parts)
        : breaks > 0 && blocked ? double.NaN
        : 0;

    // Below the volts at which any current flows, the strings share what there is in proportion.
    private double Share(int zone, Func<int, bool> belongs, Span<double> parts)
    {
        double all = 0, own = 0;
        for (var i = 0; i < built.Parts.Length; i++)
        {
            if (zones.OfPart(i) != zone) continue;
            all += built.Parts[i].Volts;
            if (belongs(i)) own += built.Parts[i].Volts;
        }

        if (!(all > 0)) return 0;
        var fed = sign * zones.All[zone].Volts;
        for (var i = 0; i < built.Parts.Length && !parts.IsEmpty; i++)
        {
            if (zones.OfPart(i) != zone) continue;
            var perVolt = fed * ((belongs(i) ? 1 : 0) - (own / all)) / all;
            sensitivity.AddAtRated(parts, built.Parts[i], perVolt);
        }

        return Fed(zone, own / all, parts);
    }

    // A share of the volts in front of a zone.
    private double Fed(int index, double share, Span<double> parts)
    {
        var zone = zones.All[index];
        if (index == 0)
        {
            if (!parts.IsEmpty)
            {
                parts[Input.DriverOutput] = sign * share
                    * (Hold == LoopHold.Open ? limits.OpenPart : Hold == LoopHold.Volts ? limits.VoltsPart : 0);
            }
        }
        else
        {
            Span<double> byAmps = stackalloc double[SeriesPlan.MostBridges + 1];
            byAmps.Clear();
            byAmps[zone.Parent] = sign * share * zone.BridgeOhms;
            byAmps[index] = -byAmps[zone.Parent];
            sensitivity.Follow(byAmps, parts);
        }

        return sign * share * zone.Volts;
    }

    // The volts of a zone's parts from a position on, and of the connections among them.
    private double Sum(int index, int from, int end, Span<double> parts)
    {
        Span<double> byAmps = stackalloc double[SeriesPlan.MostBridges + 1];
        byAmps.Clear();
        var volts = sensitivity.Sum(index, from, end, sign, byAmps, parts);
        sensitivity.Follow(byAmps, parts);
        return sign * volts;
    }

    // Driver off and every fitting bridged: cables in series, connections in parallel with what is beyond them.
    private double Ohms(int index, double weight, Span<double> parts)
    {
        var zone = zones.All[index];
        if (IsCableOpen(index)) return index == 0 ? OpenLoopOhms : double.PositiveInfinity;
        var ohms = zone.Ohms;
        sensitivity.AddCables(parts, index, -1, zone.End, weight);
        for (var child = index + 1; child < zones.All.Length; child++)
        {
            if (zones.All[child].Parent != index) continue;
            var bridge = zones.All[child].BridgeOhms;
            var beyond = Ohms(child, 0, []);
            var within = double.IsInfinity(beyond) ? 0 : bridge + beyond > 0 ? bridge / (bridge + beyond) : 0;
            ohms += double.IsInfinity(beyond) ? bridge : within * beyond;
            if (within > 0 && !parts.IsEmpty) Ohms(child, weight * within * within, parts);
        }

        return ohms;
    }

    private bool IsCableOpen(int zone)
    {
        if (zone == 0 && built.Cables.IsOpenAtDriver) return true;
        for (var r = 0; built.Cables.HasOpen && r < built.RunOhms.Length; r++)
            if (built.Cables.IsOpen(r) && zones.Before(built.Layout.RunPosition[r]) == zone) return true;
        return false;
    }
}
