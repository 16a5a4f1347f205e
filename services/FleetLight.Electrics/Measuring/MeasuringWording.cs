using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Sentences about what to measure and what it would show.</summary>
internal sealed class MeasuringWording(CircuitModel model, WeighedHypothesis[] hypotheses, FaultClasses classes)
{
    private const int MostLines = 4;
    private const int MostNamed = 3;
    private const double LeastShown = 0.01;

    private const string Live =
        "Work on the live output side: insulated probes, one hand where you can, no bare ends touching. A broken "
        + "series loop stands at the driver's full open-circuit voltage. Leave the mains side to a licensed person; "
        + "local codes come first.";

    private const string Dead =
        "Switch the driver off at the mains, lock it off and prove it dead first; the mains side is for a licensed "
        + "person. Local codes come first.";

    private const string Digging =
        "Before digging, switch off and find out what else lies there; dig by hand near cables. ";

    /// <summary>A candidate with what it would show.</summary>
    public MeasuringCandidate Candidate(Question question, double bits)
    {
        var (asked, minutes, access, _) = question.Asked;
        var place = asked[0].Place;
        var (text, caution) = question.Quantity switch
        {
            MeasuredQuantity.VoltsDc => ($"Measure the voltage {Across(place)}.", Live),
            MeasuredQuantity.Milliamps =>
                ($"Measure the current {At(place)}: with a clamp for direct current, or with the circuit opened there "
                    + "while the driver is off.", Live),
            MeasuredQuantity.LoopOhms =>
                ("Measure the resistance of the cable loop at the driver: driver disconnected, every fitting bridged.",
                    Dead),
            MeasuredQuantity.MegohmsInsulation =>
                ($"Measure the insulation resistance {At(place)}: driver and fittings disconnected.",
                    Dead + " The test voltage destroys electronics that stay connected."),
            _ => ("Walk past all fittings and write down which are lit.", "Mind the ground where it is dark."),
        };
        return new MeasuringCandidate(
            [.. asked.Select(a => a.Place)], question.Quantity, bits, minutes, text,
            access == PlaceAccess.NeedsDigging ? Digging + caution : caution)
        {
            WouldRead = WouldRead(question),
        };
    }

    /// <summary>Why to stop at one explanation.</summary>
    public string OneExplanation(int lead, double probability) =>
        $"{Says(lead)} This is {Percent(probability)} likely by the readings so far; more of them would change little.";

    /// <summary>Why to stop at a group.</summary>
    public string OneGroup(ImmutableArray<int> group, double probability) =>
        $"It is one of these, {Percent(probability)} likely together, and no reading here tells them apart: "
        + string.Join(" Or: ", group.Take(MostNamed).Select(Says));

    /// <summary>Why to stop although much is open.</summary>
    public string NothingTells(int lead, ImmutableArray<MeasuringCandidate> candidates) =>
        (candidates.IsEmpty
            ? "There is nothing left to measure at the places given. "
            : "Nothing left to measure here tells enough for its effort. ")
        + $"The likeliest is, with {Percent(classes.Probabilities[lead])}: {Says(lead)}";

    // Explanations that would read the same are one line.
    private ImmutableArray<WouldRead> WouldRead(Question question)
    {
        var lines = new List<(List<int> Faults, double Probability)>();
        foreach (var fault in classes.ByProbability.Where(c => classes.Probabilities[c] >= LeastShown))
        {
            var at = lines.FindIndex(line => !question.Separates(classes.Leads[line.Faults[0]], classes.Leads[fault]));
            if (at < 0) lines.Add(([fault], classes.Probabilities[fault]));
            else
            {
                lines[at].Faults.Add(fault);
                lines[at] = lines[at] with { Probability = lines[at].Probability + classes.Probabilities[fault] };
            }
        }

        return
        [
            .. lines.OrderByDescending(line => line.Probability).Take(MostLines)
                .Select(line => Line(question, line.Faults, Math.Min(1, line.Probability))),
        ];
    }

    private WouldRead Line(Question question, List<int> faults, double probability)
    {
        var foresights = question.Foresights[classes.Leads[faults[0]]];
        // One of each kind says more than one kind at several places.
        var named = faults.DistinctBy(fault => hypotheses[classes.Leads[fault]].Kind).Take(MostNamed).ToList();
        if (named.Count < MostNamed) named = [.. named.Union(faults).Take(MostNamed)];
        var says = string.Join(" Or: ", named.Select(Says))
            + (faults.Count > named.Count ? $" Or one of {faults.Count - named.Count} more." : "");
        if (question.Quantity == MeasuredQuantity.FittingLit)
            return new WouldRead(says, probability, Pattern(question, foresights), null, null);
        if (!foresights[0].Known) return new WouldRead(says, probability, "anything", null, null);
        var value = question.Quantity == MeasuredQuantity.MegohmsInsulation
            ? Math.Exp(foresights[0].Mean)
            : foresights[0].Mean;
        return new WouldRead(
            says, probability, Figure(question.Quantity, value), value, Math.Sqrt(foresights[0].Variance));
    }

    private static string Pattern(Question question, Foresight[] foresights)
    {
        var dark = question.Asked.Asked.Where((_, i) => foresights[i] is { Known: true, Mean: < 0.5 })
            .Select(asked => asked.Place).ToList();
        return dark.Count == 0 ? "all lit"
            : dark.Count == foresights.Length ? "all dark"
            : $"dark: {string.Join(", ", dark)}";
    }

    private string Says(int fault)
    {
        var lead = hypotheses[classes.Leads[fault]];
        var (place, free) = (lead.Case, lead.Case.Free);
        var spread = 2 * Math.Abs(lead.FigureBeside - lead.Figure);
        var finding = new FaultFinding(model, place, lead.Figure)
        {
            FigureLow = free is null ? double.NaN : Math.Max(free.Least, lead.Figure - spread),
            FigureHigh = free is null ? double.NaN : Math.Min(free.Most, lead.Figure + spread),
            FittingIds = [.. place.Fittings.OrEmpty().Select(i => model.Fittings[i].Id)],
            RunIds = [.. place.Runs.OrEmpty().Where(i => i >= 0).Select(i => model.Runs[i].Id)],
            NodeIds = place.Nodes.OrEmpty(),
        };
        return lead.Definition.Says?.Invoke(finding) is { Length: > 0 } says ? says : $"{lead.Definition.Title}.";
    }

    private static string Figure(MeasuredQuantity quantity, double figure) => quantity switch
    {
        MeasuredQuantity.VoltsDc => $"about {Plain.Figure(figure)} V",
        MeasuredQuantity.Milliamps => $"about {Plain.Figure(figure)} mA",
        MeasuredQuantity.LoopOhms => $"about {Plain.Figure(figure)} Ω",
        _ => $"about {Plain.Figure(figure)} MΩ",
    };

    private string Across(string place) => place == CircuitModel.DriverNode
        ? "at the driver's output"
        : model.Fittings.Any(f => f.Id == place) ? $"across fitting {place}" : $"between the cores in {place}";

    private static string At(string place) => place == CircuitModel.DriverNode ? "at the driver" : $"at {place}";

    private static string Percent(double probability) =>
        $"{Math.Floor(Math.Clamp(100 * probability, 0, 99))} %";
}
