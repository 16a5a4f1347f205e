using System.Globalization;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>What ngspice found: every node's voltage, V, and the current through every voltage source, A.</summary>
internal sealed class OperatingPoint
{
    private readonly Dictionary<string, double> values;

    private OperatingPoint(Dictionary<string, double> values, bool isDirect) =>
        (this.values, IsDirect) = (values, isDirect);

    /// <summary>
    /// Whether it was found from the start that the deck gives. Otherwise the simulator felt its way to it, from no
    /// supply or with conductances that it took away again, and may have come to another one than the circuit does.
    /// </summary>
    public bool IsDirect { get; }

    /// <summary>Voltage of a node against the deck's reference node 0, V.</summary>
    public double Volts(string node) => node == "0" ? 0 : Finite($"v({node})");

    /// <summary>Current into the plus terminal of a voltage source and out of its minus terminal, A.</summary>
    public double Amps(string source) => Finite($"i({source})");

    /// <summary>Reads an ASCII raw file with one point.</summary>
    public static OperatingPoint Parse(string raw, bool isDirect)
    {
        var lines = raw.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        var names = lines.SkipWhile(line => line != "Variables:").Skip(1).TakeWhile(line => line != "Values:")
            .Select(line => line.Split('\t')[1]).ToArray();
        var numbers = lines.SkipWhile(line => line != "Values:").Skip(1)
            .Select(line => double.Parse(line.Split('\t')[^1], CultureInfo.InvariantCulture)).ToArray();
        if (names.Length == 0 || names.Length != numbers.Length)
            throw new FormatException($"{names.Length} names, {numbers.Length} values in:\n{raw}");
        var values = names.Zip(numbers).ToDictionary(pair => pair.First, pair => pair.Second, StringComparer.Ordinal);
        return new OperatingPoint(values, isDirect);
    }

    private double Finite(string name)
    {
        var value = values[name];
        return double.IsFinite(value) ? value : throw new FormatException($"{name} is {value}.");
    }
}
