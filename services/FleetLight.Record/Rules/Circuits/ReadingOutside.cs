using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A reading that tolerances do not explain.</summary>
public static class ReadingOutside
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "reading-outside",
        "Reading outside what it should be",
        AlertSeverity.Warning,
        "Of the readings of the latest visit, the newest at a place lies outside what the circuit should read "
            + "there as built.",
        "Follow the explanations, mend what is wrong and read again, or correct the record.",
        "JCGM 100 and 106 for the interval; the design and the meter for its width");

    /// <summary>Adds what it finds on the readings of the latest visit.</summary>
    public static void Find(Visit visit, ICollection<Finding> found)
    {
        string? likely = null;
        foreach (var reading in visit.Newest)
            if (reading.View.Verdict == CircuitVerdict.Outside)
            {
                likely ??= Explanations.Leading(visit) is { } lead ? $" Most likely: {lead}" : "";
                found.Add(Rule.On(
                    visit.Subject,
                    $"{reading.Where}: {reading.View.Why}{likely}",
                    [visit.Subject.Id],
                    [reading.View.Fact],
                    reading.PlaceKey));
            }
    }
}
