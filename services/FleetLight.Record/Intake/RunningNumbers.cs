using System.Collections.Immutable;
using FleetLight.Contracts.Wire;

namespace FleetLight.Record.Intake;

/// <summary>The running numbers of a device that are in hand, as ascending ranges that neither touch nor overlap.</summary>
/// <param name="Ranges">The ranges.</param>
public sealed record RunningNumbers(ImmutableArray<NumberRange> Ranges)
{
    /// <summary>Most ranges of missing numbers that a receipt lists.</summary>
    public const int MostMissingListed = 100;

    /// <summary>No number in hand.</summary>
    public static RunningNumbers None { get; } = new(ImmutableArray<NumberRange>.Empty);

    /// <summary>Every number from 1 through this one is in hand; 0 for none.</summary>
    public int CompleteThrough => Ranges.Length > 0 && Ranges[0].From == 1 ? Ranges[0].Through : 0;

    /// <summary>Greatest number in hand; 0 for none.</summary>
    public int Highest => Ranges.Length > 0 ? Ranges[^1].Through : 0;

    /// <summary>The set with these numbers added; numbers below 1 are passed over.</summary>
    public RunningNumbers With(IEnumerable<int> numbers)
    {
        var added = numbers.Where(number => number >= 1).Select(number => new NumberRange(number, number));
        var merged = ImmutableArray.CreateBuilder<NumberRange>(Ranges.Length + 4);
        foreach (var range in Ranges.Concat(added).OrderBy(range => range.From))
        {
            // long: a range that ends at the greatest number must not wrap around.
            if (merged.Count > 0 && range.From <= merged[^1].Through + 1L)
                merged[^1] = merged[^1] with { Through = Math.Max(merged[^1].Through, range.Through) };
            else
                merged.Add(range);
        }

        return new RunningNumbers(merged.ToImmutable());
    }

    /// <summary>The receipt that tells a device what is in hand and what is missing.</summary>
    public Receipt ToReceipt(string source)
    {
        var missing = new List<NumberRange>();
        var expected = 1;
        foreach (var range in Ranges)
        {
            if (missing.Count == MostMissingListed) break;
            if (range.From > expected) missing.Add(new NumberRange(expected, range.From - 1));
            expected = range.Through == int.MaxValue ? range.Through : range.Through + 1;
        }

        return new Receipt { Source = source, CompleteThrough = CompleteThrough, Highest = Highest, Missing = missing };
    }
}
