using System.Globalization;
using System.Text;

namespace FleetLight.Benchmarks.Diagnosing;

/// <summary>Counts trials and prints them.</summary>
internal sealed class Tally(IReadOnlyCollection<Trial> trials)
{
    /// <summary>Share in which the diagnosis named the fault first.</summary>
    public double Top1 => Mean(trials, t => t.Top1);

    /// <summary>The same among the faults that are distinguishable in principle.</summary>
    public double DistinguishableTop1 => Mean(Distinguishable, t => t.Top1);

    /// <summary>Share in which it was among the first three, of those that are distinguishable.</summary>
    public double DistinguishableTop3 => Mean(Distinguishable, t => t.Top3);

    /// <summary>What the optimal classifier reaches.</summary>
    public double Best1 => Mean(trials, t => t.Best1);

    /// <summary>What it reaches among the distinguishable.</summary>
    public double DistinguishableBest1 => Mean(Distinguishable, t => t.Best1);

    /// <summary>What it reaches with the first three, among the distinguishable.</summary>
    public double DistinguishableBest3 => Mean(Distinguishable, t => t.Best3);

    /// <summary>Share of trials whose fault is distinguishable in principle.</summary>
    public double DistinguishableShare => (double)Distinguishable.Count / trials.Count;

    /// <summary>
    /// How sure the diagnosis is of what it names first, on average; where its probabilities are right that is
    /// <see cref="Top1"/>.
    /// </summary>
    public double Sure => Mean(trials, t => t.Sure);

    /// <summary>The same of the optimal classifier, which shows whether it is one.</summary>
    public double BestSure => Mean(trials, t => t.BestSure);

    private List<Trial> Distinguishable => [.. trials.Where(t => t.IsDistinguishable)];

    /// <summary>
    /// The confusion table, in percent of each row: what was put in down the side, what was named first along the
    /// top, both numbered; and beside each row how often the diagnosis and the optimal classifier were right.
    /// </summary>
    public string Confusion()
    {
        var kinds = trials.Select(t => t.Kind).Concat(trials.Select(t => t.Answered)).Distinct().Order().ToList();
        var text = new StringBuilder();
        text.Append("put in \\ named, %".PadRight(32));
        for (var i = 0; i < kinds.Count; i++) text.Append(CultureInfo.InvariantCulture, $"{i + 1,4}");
        text.AppendLine("  | circuits  right  best");
        for (var i = 0; i < kinds.Count; i++)
        {
            var row = trials.Where(t => t.Kind == kinds[i]).ToList();
            if (row.Count == 0) continue;
            text.Append(CultureInfo.InvariantCulture, $"{i + 1,2} {kinds[i],-29}");
            foreach (var kind in kinds)
            {
                var share = 100.0 * row.Count(t => t.Answered == kind) / row.Count;
                text.Append(share == 0 ? "   ." : share.ToString("0", CultureInfo.InvariantCulture).PadLeft(4));
            }

            text.AppendLine(CultureInfo.InvariantCulture,
                $"  | {row.Count,8} {100 * Mean(row, t => t.Top1),6:0} {100 * Mean(row, t => t.Best1),5:0}");
        }

        return text.ToString();
    }

    private static double Mean(IReadOnlyCollection<Trial> of, Func<Trial, double> what) =>
        of.Count == 0 ? 0 : of.Average(what);
}
