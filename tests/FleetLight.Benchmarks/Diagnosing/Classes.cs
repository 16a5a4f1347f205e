using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using FleetLight.Electrics;

namespace FleetLight.Benchmarks.Diagnosing;

/// <summary>
/// Which faults are one and the same for a round of readings: those that would give exactly the same ones, such as a
/// shorted fitting and one whose joint is bridged. Whatever differs by ever so little counts as different.
/// </summary>
internal sealed class Classes
{
    private static readonly double[] Shares = [0.2, 0.5, 0.8];

    private readonly Dictionary<(FaultKind Kind, string Place), int> ofLabel = [];

    /// <summary>Sorts suspects into classes.</summary>
    public Classes(
        CircuitPlan plan, IReadOnlyList<Suspect> suspects,
        ImmutableArray<(string Place, MeasuredQuantity Quantity)> asked)
    {
        var numbers = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var label in suspects.GroupBy(one => (one.Kind, one.Place)))
        {
            var signs = label.Select(one => Sign(plan, one, asked)).Distinct().Order(StringComparer.Ordinal);
            var sign = string.Join('|', signs);
            if (!numbers.TryGetValue(sign, out var number)) numbers[sign] = number = numbers.Count;
            ofLabel[label.Key] = number;
        }

        Count = numbers.Count;
    }

    /// <summary>How many there are.</summary>
    public int Count { get; }

    /// <summary>The class of a fault at a place; −1 where the generator does not know it.</summary>
    public int Of(FaultKind kind, string place) => ofLabel.GetValueOrDefault((kind, place), -1);

    // Means at a few figures, to a hundredth of the meter's error.
    private static string Sign(
        CircuitPlan plan, Suspect suspect, ImmutableArray<(string Place, MeasuredQuantity Quantity)> asked)
    {
        var sign = new StringBuilder();
        foreach (var share in suspect.IsFree ? Shares : [0.5])
        {
            var changes = suspect.ChangesAt(share);
            if (plan.Solve(changes, []) is not { } state)
            {
                sign.Append("none;");
                continue;
            }

            for (var r = 0; r < asked.Length; r++)
            {
                var (place, quantity) = asked[r];
                var shown = quantity == MeasuredQuantity.FittingLit
                    ? Meter.Lit(plan, state, place)
                    : Meter.Shown(
                        plan, state, place, quantity, changes, suspect.Reading < 0 || suspect.Reading == r, []);
                var unit = quantity == MeasuredQuantity.FittingLit ? 0.01 : 0.01 * Meter.Error(quantity, shown);
                sign.Append(CultureInfo.InvariantCulture, $"{Math.Round(shown / unit)};");
            }
        }

        return sign.ToString();
    }
}
