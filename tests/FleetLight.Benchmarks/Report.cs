namespace FleetLight.Benchmarks;

/// <summary>Collects what was measured and prints it as one table.</summary>
internal sealed class Report
{
    private readonly List<(string What, string Figure, string Beside, string Ratio, string Aim)> rows = [];

    /// <summary>Sustained rate of mixed facts, facts/s; later measurements load the service with half of it.</summary>
    public double SustainedRate { get; set; } = 18_000;

    /// <summary>Adds a line.</summary>
    public void Add(string what, string figure, string beside = "", double? ratio = null, string aim = "")
    {
        rows.Add((what, figure, beside, ratio is { } r ? Ratio(r) : "", aim));
        Console.WriteLine($"  {what}: {figure} {beside} {rows[^1].Ratio}");
    }

    private static string Ratio(double ratio) => ratio.ToString(
        ratio < 0.05 ? "0.0000" : ratio < 20 ? "0.00" : "0", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>Prints the table.</summary>
    public void Print()
    {
        Console.WriteLine();
        Console.WriteLine("| measured | figure | beside, in the same run | ratio | aim |");
        Console.WriteLine("|---|---|---|---|---|");
        foreach (var row in rows) Console.WriteLine($"| {row.What} | {row.Figure} | {row.Beside} | {row.Ratio} | {row.Aim} |");
    }

    /// <summary>The value below which that share of the sorted values lies.</summary>
    public static double Percentile(IReadOnlyCollection<double> values, double share)
    {
        var sorted = values.Order().ToArray();
        return sorted[Math.Clamp((int)Math.Ceiling(share * sorted.Length) - 1, 0, sorted.Length - 1)];
    }
}
