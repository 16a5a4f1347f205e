using FleetLight.Contracts.Wire;

namespace FleetLight.FieldAgent.Sending;

/// <summary>What follows from the service's word on what it has. Pure.</summary>
internal static class Standing
{
    /// <summary>
    /// The numbers up to the last one given that the service says it does not have, lowest first. A number that it has proves
    /// nothing of a fact: only an answer for the fact's own id does.
    /// </summary>
    public static IReadOnlyList<NumberRange> Lacks(Receipt receipt, int last)
    {
        var lacks = new List<NumberRange>();
        foreach (var range in receipt.Missing)
        {
            var through = Math.Min(range.Through, last);
            if (range.From >= 1 && range.From <= through) lacks.Add(range with { Through = through });
        }

        if (receipt.Highest < last) lacks.Add(new NumberRange(Math.Max(receipt.Highest, 0) + 1, last));
        return lacks;
    }

    /// <summary>Whether an answer is one to that batch. What is not is noise, and nothing is believed of it.</summary>
    public static bool Answers(BatchReceipt answer, string source, IReadOnlyList<string> ids) =>
        answer is { Outcomes: not null, Receipt: { Missing: not null, Source: not null } }
        && answer.Receipt.Source == source && answer.Outcomes.Count == ids.Count
        && answer.Outcomes.Select((outcome, index) => outcome is not null && outcome.Index == index && outcome.Id == ids[index]).All(same => same);
}
