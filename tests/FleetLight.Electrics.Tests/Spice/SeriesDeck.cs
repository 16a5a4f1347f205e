using System.Globalization;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>What a constant-current driver holds.</summary>
internal enum SeriesHeld
{
    Current,
    Volts,
    Watts,

    /// <summary>The voltage of its open output.</summary>
    OpenVolts,
}

/// <summary>
/// A constant-current loop as a netlist: both cores of every cable, the fittings one after the other in the core that
/// goes out, and a driver that holds its current, volts or watts.
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

    private readonly AsFound found;
    private readonly Deck deck = new("constant-current loop");
    private readonly List<(string Place, string Plus, string Minus, string Meter)> places = [];
    private readonly bool isBroken;
    private int count;

    private SeriesDeck(AsFound found, SeriesHeld held)
    {
        this.found = found;
        isBroken = found.IsBrokenAtDriver || found.Broken.Contains(true) || found.Fittings.Any(Blocks);
        WriteDriver(held);
        var (core, meter) = Metered("out");
        places.Add((CircuitModel.DriverNode, "out", Deck.Ground, meter));
        var joint = Through(found.DriverJointOhms, found.IsBrokenAtDriver ? New() : core);
        if (found.Model.Runs.All(run => run.ConductorsInLoop == 1)) WriteSingleCores(joint);
        else WriteNode(CircuitModel.DriverNode, -1, joint, meter, Deck.Ground);
    }

    /// <summary>What a loop reads with the driver holding this; null where the simulator finds nothing.</summary>
    public static Oracle? Read(AsFound found, SeriesHeld held)
    {
        var written = new SeriesDeck(found, held);
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

    private void WriteDriver(SeriesHeld held)
    {
        var driver = found.Model.Driver;
        var amps = found.DriverValue / 1000;
        var (plus, minus) = found.IsReversed ? (Deck.Ground, "out") : ("out", Deck.Ground);
        if (found.IsDead)
        {
            deck.VoltageSource(plus, minus, 0);
        }
        else if (held == SeriesHeld.Current)
        {
            deck.CurrentSource(minus, plus, amps);
        }
        else if (held == SeriesHeld.Watts)
        {
            var watts = driver.MostWatts!.Value;
            deck.CurrentByVolts(minus, plus, v => $"-{watts}/{v}");
            deck.StartFrom("out", (found.IsReversed ? -1 : 1) * watts / amps);
        }
        else
        {
            var isOpen = held == SeriesHeld.OpenVolts;
            deck.VoltageSource(plus, minus, (isOpen ? driver.OpenCircuitVolts : driver.MostVolts)!.Value);
        }
    }

    // The loop comes to a node in one core and leaves it by the other; between them lie the node's fittings and all
    // that is beyond it, one after the other.
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
