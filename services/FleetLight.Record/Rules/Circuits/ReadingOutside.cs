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
            + "there as built, or all of them together do. Of several, none is found while all together are not outside: so the "
            + "stated risk of a false alarm holds for the circuit.",
        "Follow the explanations, mend what is wrong and read again, or correct the record.",
        "JCGM 100 and 106 for the interval; the design and the meter for its width");

    /// <summary>Adds what it finds on the readings of the latest visit.</summary>
    public static void Find(Visit visit, ICollection<Finding> found)
    {
        if (visit.Verdict != CircuitVerdict.Outside) return;
        var likely = Explanations.Leading(visit) is { } lead ? $" Most likely: {lead}" : "";
        var any = false;
        foreach (var reading in visit.Newest)
        {
            if (reading.View.Verdict != CircuitVerdict.Outside) continue;
            any = true;
            Add($"{reading.Where}: {reading.View.Why}", [reading.View.Fact], reading.PlaceKey);
        }

        if (!any) Add(visit.Together!.Why, [.. visit.Newest.Select(reading => reading.View.Fact)], AllTogether);

        void Add(string says, IReadOnlyList<string> evidence, string cause) =>
            found.Add(Rule.On(visit.Subject, says + likely, [visit.Subject.Id], evidence, cause));
    }

    private const string AllTogether = "together";
}
