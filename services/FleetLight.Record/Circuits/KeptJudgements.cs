using System.Globalization;
using System.Text;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Circuits;

/// <summary>What was made of a reading, and by which version of the models of the electrics.</summary>
/// <param name="ModelVersion">The version that judged it.</param>
/// <param name="Verdict">What it said.</param>
public readonly record struct KeptJudgement(int ModelVersion, CircuitVerdict Verdict);

/// <summary>
/// The judgements of the readings in a window, kept with it. A newer version of the models does not rewrite what an earlier
/// one said of a reading: that is judged again only when a fact changes what the circuit is, or how it is to be judged.
/// </summary>
/// <param name="Ground">What they were judged on, as <see cref="CircuitBasis.Ground"/> tells it.</param>
/// <param name="ByFact">The judgement of each reading, by its fact.</param>
public sealed record KeptJudgements(string Ground, IReadOnlyDictionary<string, KeptJudgement> ByFact)
{
    // One letter a verdict, in the order of the words.
    private const string Letters = "uwdoc";

    /// <summary>Nothing was judged.</summary>
    public static KeptJudgements None { get; } =
        new("", new Dictionary<string, KeptJudgement>(StringComparer.Ordinal));

    /// <summary>
    /// What an earlier version said of a reading, where that still stands; none where it is judged by this version.
    /// </summary>
    public KeptJudgement? EarlierOf(string fact, CircuitBasis basis) =>
        ByFact.TryGetValue(fact, out var kept)
        && kept.ModelVersion < Electrics.Expected.ModelVersion
        && Ground == basis.Ground
            ? kept
            : null;

    /// <summary>The judgements of a state that was judged.</summary>
    public static KeptJudgements Of(CircuitBasis basis, CircuitView judged) => new(
        basis.Ground,
        judged.LastReadings.ToDictionary(
            reading => reading.Fact,
            reading => new KeptJudgement(reading.ModelVersion, reading.Verdict),
            StringComparer.Ordinal));

    /// <summary>As short as it can be written beside the window: it is written again with every reading.</summary>
    public string ToText(ReadingWindow window)
    {
        var text = new StringBuilder(Ground, Ground.Length + (3 * window.Entries.Length));
        var version = -1;
        foreach (var entry in window.Entries)
        {
            var kept = ByFact[entry.Fact];
            if (kept.ModelVersion != version)
            {
                version = kept.ModelVersion;
                text.Append(CultureInfo.InvariantCulture, $" {version}");
            }

            text.Append(Letters[(int)kept.Verdict]);
        }

        return text.ToString();
    }

    /// <summary>Reads what was written beside that window; what was not written then counts as not judged.</summary>
    public static KeptJudgements FromText(string? text, ReadingWindow window)
    {
        if (string.IsNullOrEmpty(text)) return None;
        var parts = text.Split(' ');
        var byFact = new Dictionary<string, KeptJudgement>(window.Entries.Length, StringComparer.Ordinal);
        var next = 0;
        foreach (var part in parts.Skip(1))
        {
            var digits = part.AsSpan().IndexOfAny(Letters);
            if (digits <= 0) return None;
            var version = int.Parse(part.AsSpan(0, digits), NumberStyles.None, CultureInfo.InvariantCulture);
            foreach (var letter in part.AsSpan(digits))
            {
                if (next == window.Entries.Length) return None;
                byFact[window.Entries[next++].Fact] = new(version, (CircuitVerdict)Letters.IndexOf(letter, StringComparison.Ordinal));
            }
        }

        return new(parts[0], byFact);
    }
}
