using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>What a constant-voltage driver holds. Just one is within the limits of the others.</summary>
internal enum NetworkHeld
{
    Volts,
    Amps,
    Watts,
}

/// <summary>
/// A constant-voltage network as a netlist: both cores of every cable, each fitting between them at the end of its
/// tail, and a driver that holds its volts, amps or watts.
/// </summary>
internal sealed class NetworkDeck
{
    // Touching cores, Ω, and how little a diode rises beyond its threshold.
    private const double ShortOhms = 1e-6;

    // What lies between the cores at every node, Ω: it says what voltage a dead one has.
    private const double InsulationOhms = 1e9;

    // A linear regulator that has less than a tenth of its volts takes less in proportion; our own assumption.
    private const double Knee = 0.1;

    private readonly AsFound found;
    private readonly Deck deck = new("constant-voltage network");
    private readonly List<(string Place, string Plus, string Minus, string? Meter)> places = [];
    private readonly double ratedVolts;

    private NetworkDeck(AsFound found, NetworkHeld held, IReadOnlySet<FoundFitting> lit)
    {
        this.found = found;
        ratedVolts = found.Model.Driver.RatedVolts!.Value;
        WriteDriver(held);
        foreach (var node in found.Nodes) WriteNode(node);
        for (var r = 0; r < found.Model.Runs.Length; r++) WriteRun(r);
        foreach (var fitting in found.Fittings) WriteFitting(fitting, lit.Contains(fitting));
        foreach (var (node, ohms) in found.Bridges) deck.Resistor(Plus(node), Minus(node), Math.Max(ShortOhms, ohms));
    }

    /// <summary>What a network reads with these fittings lit; null where the simulator finds nothing.</summary>
    public static Oracle? Read(AsFound found, NetworkHeld held, IReadOnlySet<FoundFitting> lit)
    {
        var written = new NetworkDeck(found, held, lit);
        if (written.deck.Solve() is not { } point) return null;
        var oracle = new Oracle(written.deck.ToString(), point.IsDirect);
        foreach (var (place, plus, minus, meter) in written.places)
        {
            var volts = point.Volts(written.deck.Node(plus)) - point.Volts(written.deck.Node(minus));
            oracle.Add(place, MeasuredQuantity.VoltsDc, volts);
            if (meter is not null) oracle.Add(place, MeasuredQuantity.Milliamps, 1000 * point.Amps(meter));
            else if (found.Model.Fittings.Any(fitting => fitting.Id == place))
                oracle.Add(place, MeasuredQuantity.Milliamps, 0);
        }

        return oracle;
    }

    private static string Plus(string node) => $"+ {node}";

    private static string Minus(string node) => node == CircuitModel.DriverNode ? Deck.Ground : $"- {node}";

    private void WriteDriver(NetworkHeld held)
    {
        var driver = found.Model.Driver;
        var (plus, minus) = found.IsReversed ? (Deck.Ground, "out") : ("out", Deck.Ground);
        if (found.IsDead) deck.VoltageSource(plus, minus, 0);
        else if (held == NetworkHeld.Volts) deck.VoltageSource(plus, minus, found.DriverValue);
        else if (held == NetworkHeld.Amps) deck.CurrentSource(minus, plus, driver.MostAmps!.Value);
        else deck.CurrentByVolts(minus, plus, v => $"-{driver.MostWatts!.Value}/{v}");
        var meter = deck.VoltageSource("out", "metered", 0);
        Start("metered", Deck.Ground);
        places.Add((CircuitModel.DriverNode, "out", Deck.Ground, meter));
        Start("out", Deck.Ground);
        if (found.IsBrokenAtDriver) return;
        deck.Resistor("metered", Plus(CircuitModel.DriverNode), Math.Max(ShortOhms, found.DriverJointOhms));
    }

    private void WriteNode(string node)
    {
        deck.Resistor(Plus(node), Minus(node), InsulationOhms);
        Start(Plus(node), Minus(node));
        if (node != CircuitModel.DriverNode && found.Model.Fittings.All(fitting => fitting.Id != node))
            places.Add((node, Plus(node), Minus(node), null));
    }

    private void WriteRun(int r)
    {
        var run = found.Model.Runs[r];
        var ohms = found.ConductorOhms(r);
        if (!found.Broken[r]) deck.Resistor(Plus(run.From), Plus(run.To), ohms + found.AddedJointOhms(r));
        deck.Resistor(Minus(run.From), Minus(run.To), ohms);
    }

    private void WriteFitting(FoundFitting fitting, bool isLit)
    {
        var node = fitting.Node;
        var (plus, minus) = (Plus(node), Minus(node));
        if (found.TailOhms(fitting) is var ohms and > 0)
        {
            (plus, minus) = ($"+ tail {node}", $"- tail {node}");
            deck.Resistor(Plus(node), plus, ohms);
            deck.Resistor(Minus(node), minus, ohms);
            Start(plus, minus);
        }

        var metered = $"meter {found.Fittings.IndexOf(fitting)}";
        var meter = isLit ? deck.VoltageSource(plus, metered, 0) : null;
        if (fitting.Recorded is not null) places.Add((node, plus, minus, meter));
        if (!isLit) return;
        Start(metered, minus);
        WriteLoad(fitting, metered, minus);
    }

    private void WriteLoad(FoundFitting fitting, string plus, string minus)
    {
        var watts = fitting.Watts;
        var amps = watts / ratedVolts;
        if (fitting.BypassVolts is 0) deck.Resistor(plus, minus, ShortOhms);
        else if (fitting.BypassVolts is { } bypass)
            deck.CurrentByVolts(plus, minus, v => $"max(0, ({v}-{bypass})/{ShortOhms})");
        else if (fitting.OtherDriveVolts is { } volts) WriteString(plus, minus, volts, watts / volts);
        else if (fitting.Recorded?.Load == LoadKind.Resistive) deck.Resistor(plus, minus, ratedVolts / amps);
        else if (fitting.Recorded?.Load == LoadKind.ConstantCurrent)
            deck.CurrentByVolts(plus, minus, v => $"min({amps}, {amps / Knee / ratedVolts}*{v})");
        else deck.CurrentByVolts(plus, minus, v => $"{watts}/{v}");
    }

    private void WriteString(string anode, string cathode, double volts, double amps)
    {
        var (emission, resistive) = found.Assumptions.Led;
        deck.Diode(
            anode, cathode, emission * volts, amps * Math.Exp((resistive - 1) / emission), resistive * volts / amps);
    }

    // The search begins as if nothing drew current.
    private void Start(string plus, string minus)
    {
        if (found.IsDead) return;
        deck.StartFrom(found.IsReversed ? minus : plus, found.DriverValue);
    }
}
