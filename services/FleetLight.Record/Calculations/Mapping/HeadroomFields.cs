using System.Globalization;
using System.Text.RegularExpressions;
using FleetLight.Electrics;

namespace FleetLight.Record.Calculations.Mapping;

/// <summary>Which members of a request the electrics mean by the parts of a question of adding fittings.</summary>
internal static partial class HeadroomFields
{
    private const string Changed = "changed.";
    private const string Circuit = "circuit.";

    /// <summary>The member of the request.</summary>
    /// <param name="part">What the electrics name.</param>
    /// <param name="question">The question.</param>
    public static string Of(string part, HeadroomQuestion question)
    {
        if (part.StartsWith(Changed, StringComparison.Ordinal)) return OfChanged(part[Changed.Length..], question);
        if (part.StartsWith(Circuit, StringComparison.Ordinal)) return Refusals.FieldOf(part[Circuit.Length..]);
        return part
            .Replace("where.node", "where.place", StringComparison.Ordinal)
            .Replace("where.run", "where.newRun", StringComparison.Ordinal)
            .Replace("options", "limits", StringComparison.Ordinal)
            .Replace("fittings", "add", StringComparison.Ordinal)
            .Replace("].id", "].fittingId", StringComparison.Ordinal);
    }

    // The changed circuit has the added fittings behind the place where they hang, and the new runs behind its own.
    private static string OfChanged(string part, HeadroomQuestion question)
    {
        if (Indexed().Match(part) is not { Success: true } match) return Refusals.FieldOf(part);
        var index = int.Parse(match.Groups[2].ValueSpan, CultureInfo.InvariantCulture);
        if (match.Groups[1].ValueSpan is "runs")
            return index < question.Circuit.Runs.Length ? Refusals.FieldOf(part) : "where.newRun";

        var there = question.Circuit.Fittings;
        var place = there.ToList().FindIndex(fitting => fitting.Id == question.Where.Node);
        var from = place < 0 ? there.Length : place + 1;
        var added = question.Fittings.Length;
        var rest = part[match.Length..];
        return index < from ? Refusals.FieldOf(part)
            : index < from + added ? Of($"fittings[{index - from}]{rest}", question)
            : Refusals.FieldOf($"fittings[{index - added}]{rest}");
    }

    [GeneratedRegex(@"^(fittings|runs)\[(\d+)\]")]
    private static partial Regex Indexed();
}
