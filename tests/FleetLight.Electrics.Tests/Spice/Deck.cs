using System.Globalization;
using System.Text;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>A netlist in the making. Nodes are named freely; each gets a name that ngspice can read.</summary>
internal sealed class Deck
{
    /// <summary>The reference node.</summary>
    public const string Ground = "0";

    // Boltzmann's constant over the elementary charge as ngspice has it (CODATA 2014), at its default of 27 °C, V.
    private const double ThermalVolts = 1.38064852e-23 / 1.6021766208e-19 * 300.15;

    private readonly StringBuilder lines = new();
    private readonly Dictionary<string, string> nodes = new(StringComparer.Ordinal) { [Ground] = Ground };
    private readonly List<(string Plus, string Minus, double Volts)> sources = [];
    private int elements;

    /// <param name="title">What it is of.</param>
    /// <param name="tolerance">How closely the search settles: relative, V, and a thousandth of it in A.</param>
    public Deck(string title, double tolerance = 1e-6)
    {
        var t = Number(tolerance);
        lines.Append("* ").AppendLine(title)
            .AppendLine($".options reltol={t} vntol={t} abstol={Number(tolerance / 1000)} gmin=1e-15 itl1=100");
    }

    /// <summary>The deck's own name of a node.</summary>
    public string Node(string name)
    {
        if (!nodes.TryGetValue(name, out var known)) nodes[name] = known = $"n{nodes.Count}";
        return known;
    }

    /// <summary>A resistor; above 0 Ω, or else ngspice would take 1 mΩ for it.</summary>
    public void Resistor(string a, string b, double ohms)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(ohms);
        Element('R', a, b, Number(ohms));
    }

    /// <summary>A voltage source, also as ammeter; returns the name by which its current is asked for.</summary>
    public string VoltageSource(string plus, string minus, double volts)
    {
        sources.Add((Node(plus), Node(minus), volts));
        return Element('V', plus, minus, $"DC {Number(volts)}");
    }

    /// <summary>A source of constant current from one node, through itself, to the other.</summary>
    public void CurrentSource(string from, string to, double amps) => Element('I', from, to, $"DC {Number(amps)}");

    /// <summary>A current from one node through the element to the other, by the volts between them.</summary>
    /// <param name="from">Where the current enters.</param>
    /// <param name="to">Where it leaves.</param>
    /// <param name="amps">Gives the expression, A, from that of the volts between the nodes.</param>
    public void CurrentByVolts(string from, string to, Func<string, FormattableString> amps) =>
        Element('B', from, to, "I = " + FormattableString.Invariant(amps($"V({Node(from)},{Node(to)})")));

    /// <summary>A diode by Shockley's relation and a resistor, in series.</summary>
    /// <param name="anode">Where the current enters.</param>
    /// <param name="cathode">Where it leaves.</param>
    /// <param name="emissionVolts">Ideality times thermal voltage, V.</param>
    /// <param name="saturationAmps">Saturation current, A.</param>
    /// <param name="ohms">Series resistance, Ω; above zero.</param>
    public void Diode(string anode, string cathode, double emissionVolts, double saturationAmps, double ohms)
    {
        var model = $"M{elements}";
        Element('D', anode, cathode, model);
        var (ideality, amps) = (Number(emissionVolts / ThermalVolts), Number(saturationAmps));
        lines.AppendLine($".model {model} D(IS={amps} N={ideality} RS={Number(ohms)})");
    }

    /// <summary>Where the search for the operating point starts.</summary>
    public void StartFrom(string node, double volts) => lines.AppendLine($".nodeset V({Node(node)})={Number(volts)}");

    /// <summary>
    /// The direct-current operating point; null where the simulator finds none. A point at which a voltage source has
    /// other volts than its own, as a matrix without an answer gives, is an error.
    /// </summary>
    public OperatingPoint? Solve()
    {
        if (Ngspice.Solve(ToString()) is not { } point) return null;
        foreach (var (plus, minus, volts) in sources)
        {
            var off = Math.Abs(point.Volts(plus) - point.Volts(minus) - volts);
            if (off > 1e-4 + (1e-9 * Math.Abs(point.Volts(plus))))
                throw new InvalidOperationException($"{plus} to {minus} is off by {off} V in:\n{this}");
        }

        return point;
    }

    public override string ToString() => lines + ".op\n.end\n";

    private string Element(char kind, string a, string b, string value)
    {
        var name = $"{kind}{++elements}";
        lines.AppendLine($"{name} {Node(a)} {Node(b)} {value}");
        return name.ToLowerInvariant();
    }

    private static string Number(double value) => double.IsFinite(value)
        ? value.ToString("R", CultureInfo.InvariantCulture)
        : throw new ArgumentOutOfRangeException(nameof(value), value, "A deck needs finite numbers.");
}
