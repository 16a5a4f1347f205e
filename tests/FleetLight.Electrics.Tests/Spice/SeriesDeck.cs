using System.Globalization;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>
/// A constant-current loop as a netlist: both cores of every cable, the fittings one after the other in the core that
/// goes out, a driver that gives its current as far as its greatest volts and watts let it.
/// </summary>
/// <remarks>
/// An LED string is a diode by Shockley's relation with a resistor, whose ideality, saturation current and resistance
/// give the rated volts at the stated current and the two shares of the LED curve.
/// </remarks>
internal sealed class SeriesDeck
{
    // What lies across each fitting, Ω: without it nothing would say what voltage a dark one has. In a loop that is
    // broken it is a meter. Else it is the leakage of so many LEDs in a row, by which no current worth the name goes.
    private const double MeterOhms = 1e6;
    private const double LeakageOhmsPerVolt = 3e7;

    // Touching cores, Ω: a wire beside another wire would leave the current of each open.
    private const double ShortOhms = 1e-6;

    // What a bypass diode keeps, V: common practice, no source.
    private const double BypassDiodeVolts = 0.8;

    // Less than this is no current, A.
    private const double LeastAmps = 1e-7;

    private const double Rounding = 1 + 1e-9;

    private readonly AsFound found;
    private readonly Deck deck = new("constant-current loop");
    private readonly List<(string Place, string Plus, string Minus, string Meter)> places = [];
    private readonly bool isBroken;
    private int count;

    private SeriesDeck(AsFound found, Hold hold)
    {
        this.found = found;
        isBroken = found.IsBrokenAtDriver || found.Broken.Contains(true)
            || found.Fittings.Any(Blocks);
        WriteDriver(hold);
        var (core, meter) = Metered("out");
        places.Add((CircuitModel.DriverNode, "out", Deck.Ground, meter));
        var joint = Through(found.DriverJointOhms, found.IsBrokenAtDriver ? New() : core);
        if (found.Model.Runs.All(run => run.ConductorsInLoop == 1)) WriteSingleCores(joint);
        else WriteNode(CircuitModel.DriverNode, -1, joint, meter, Deck.Ground);
    }

    // What a driver holds. Its volts rise with its current whatever the loop, so just one of the first three is within
    // the limits of the other two.
    private enum Hold
    {
        Current,
        Volts,
        Watts,
        OpenVolts,
    }

    /// <summary>What a loop reads; null where the simulator finds no operating point within the driver's limits.</summary>
    public static Oracle? Solve(AsFound found)
    {
        var (amps, volts, watts) = Limits(found);
        foreach (var hold in new[] { Hold.Current, Hold.Volts, Hold.Watts })
        {
            if (hold == Hold.Watts && double.IsInfinity(watts)) continue;
            if (Read(found, hold) is not { } oracle) continue;
            var (v, i) = (Math.Abs(oracle.DriverVolts), Math.Abs(oracle.DriverMilliamps) / 1000);
            if (hold == Hold.Volts && i < LeastAmps && !found.IsDead) return Read(found, Hold.OpenVolts);
            if (v <= volts * Rounding && i <= amps * Rounding && v * i <= watts * Rounding) return oracle;
        }

        return null;
    }

    private static (double Amps, double Volts, double Watts) Limits(AsFound found) => (
        found.DriverValue / 1000,
        found.Model.Driver.MostVolts ?? double.PositiveInfinity,
        found.Model.Driver.MostWatts ?? double.PositiveInfinity);

    private static Oracle? Read(AsFound found, Hold hold)
    {
        var written = new SeriesDeck(found, hold);
        if (written.deck.Solve() is not { } point) return null;
        var oracle = new Oracle(written.deck.ToString(), point.IsDirect);
        foreach (var (place, plus, minus, meter) in written.places)
        {
            var volts = point.Volts(written.deck.Node(plus)) - point.Volts(written.deck.Node(minus));
            oracle.Add(place, MeasuredQuantity.VoltsDc, volts);
            oracle.Add(place, MeasuredQuantity.Milliamps, 1000 * point.Amps(meter));
        }

        return oracle;
    }

    private void WriteDriver(Hold hold)
    {
        var (amps, volts, watts) = Limits(found);
        var (plus, minus) = found.IsReversed ? (Deck.Ground, "out") : ("out", Deck.Ground);
        if (found.IsDead) deck.VoltageSource(plus, minus, 0);
        else if (hold == Hold.Current) deck.CurrentSource(minus, plus, amps);
        else if (hold == Hold.Watts) deck.CurrentByVolts(minus, plus, v => $"-{watts}/{v}");
        else deck.VoltageSource(plus, minus, hold == Hold.Volts ? volts : found.Model.Driver.OpenCircuitVolts ?? volts);
        if (hold == Hold.Watts) deck.StartFrom("out", (found.IsReversed ? -1 : 1) * watts / amps);
    }

    // The loop comes to a node in one core and leaves it by the other; between them lie the node's fittings and all that
    // is beyond it, one after the other.
    private void WriteNode(string node, int cameBy, string core, string meter, string back)
    {
        foreach (var (_, ohms) in found.Bridges.Where(bridge => bridge.Node == node))
            deck.Resistor(core, back, Math.Max(ohms, ShortOhms));
        if (cameBy >= 0 && found.Model.Fittings.All(fitting => fitting.Id != node))
            places.Add((node, core, back, meter));
        foreach (var fitting in found.Fittings.Where(fitting => fitting.Node == node))
            core = WriteFitting(fitting, core);
        for (var r = 0; r < found.Model.Runs.Length; r++)
        {
            var run = found.Model.Runs[r];
            if (r == cameBy || (run.From != node && run.To != node)) continue;
            var arrival = found.Broken[r] ? New() : Through(found.ConductorOhms(r) + found.AddedJointOhms(r), core);
            var (there, runMeter) = Metered(arrival);
            var leaving = New();
            core = Through(found.ConductorOhms(r), leaving);
            WriteNode(run.From == node ? run.To : run.From, r, there, runMeter, leaving);
        }

        deck.VoltageSource(core, back, 0);
    }

    // Single cores from the driver's plus through one fitting after the other back to its minus.
    private void WriteSingleCores(string core)
    {
        for (var r = 0; r < found.Model.Runs.Length; r++)
        {
            core = found.Broken[r] ? New() : Through(found.ConductorOhms(r) + found.AddedJointOhms(r), core);
            foreach (var fitting in found.Fittings.Where(f => f.Node == found.Model.Runs[r].To))
                core = WriteFitting(fitting, core);
        }

        deck.VoltageSource(core, Deck.Ground, 0);
    }

    // The node behind a resistance, the same one where there is none.
    private string Through(double ohms, string node)
    {
        if (ohms == 0) return node;
        var behind = New();
        deck.Resistor(node, behind, ohms);
        return behind;
    }

    private string WriteFitting(FoundFitting fitting, string core)
    {
        var (anode, meter) = Metered(Through(found.TailOhms(fitting), core));
        var after = New();
        var next = Through(found.TailOhms(fitting), after);
        if (fitting.Recorded is { } recorded) places.Add((recorded.Id, anode, after, meter));
        if (Blocks(fitting)) return next;
        deck.Resistor(anode, after, isBroken ? MeterOhms : LeakageOhmsPerVolt * RatedVolts(fitting));
        var passed = fitting.BypassVolts ?? (found.IsReversed && Conducts(fitting) ? BypassDiodeVolts : null);
        if (passed is not { } volts) WriteString(fitting, anode, after);
        else if (!isBroken || volts == 0) deck.VoltageSource(anode, after, found.IsReversed ? -volts : volts);
        return next;
    }

    private void WriteString(FoundFitting fitting, string anode, string cathode)
    {
        if (fitting.OtherDriveVolts is { } rated)
        {
            // Three quarters of its rated voltage stay, and a quarter grows with the current; our own assumption.
            var middle = New();
            deck.VoltageSource(anode, middle, 0.75 * rated);
            deck.Resistor(middle, cathode, 0.25 * rated * rated / fitting.Watts);
            return;
        }

        var (volts, amps) = (RatedVolts(fitting), StatedAmps(fitting));
        var (emission, resistive) = found.Assumptions.Led;
        deck.Diode(
            anode, cathode, emission * volts, amps * Math.Exp((resistive - 1) / emission), resistive * volts / amps);
    }

    private double StatedAmps(FoundFitting fitting) =>
        (fitting.Recorded?.StatedMilliamps ?? found.Model.Driver.RatedMilliamps!.Value) / 1000;

    private double RatedVolts(FoundFitting fitting) => fitting.OtherDriveVolts ?? (fitting.Watts / StatedAmps(fitting));

    // A string the wrong way round lets nothing through that could be told.
    private bool Blocks(FoundFitting fitting) => fitting.IsOpen || (found.IsReversed && !Conducts(fitting));

    private static bool Conducts(FoundFitting fitting) =>
        fitting.BypassVolts is not null || fitting.Recorded?.HasBypassDiode == true;

    private (string After, string Meter) Metered(string node)
    {
        var after = New();
        return (after, deck.VoltageSource(node, after, 0));
    }

    private string New() => string.Create(CultureInfo.InvariantCulture, $"at {++count}");
}
