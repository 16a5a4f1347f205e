using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Circuits;

/// <summary>What would explain the readings of a visit that are not as they should be, and what to measure next.</summary>
/// <param name="Faults">The explanations, likeliest first.</param>
/// <param name="CannotTellApart">What the readings cannot tell apart.</param>
/// <param name="Next">What to measure next.</param>
/// <param name="Enough">Why measuring can stop, where it can.</param>
/// <param name="Lead">The likeliest cause in words; none where there is none to name.</param>
internal sealed record Explanations(
    IReadOnlyList<ExplanationView> Faults,
    IReadOnlyList<string> CannotTellApart,
    IReadOnlyList<NextReadingView> Next,
    string? Enough,
    string? Lead)
{
    private const int Most = 5;
    private const int MostNext = 3;

    // Less likely ones only fill the page.
    private const double LeastLikelihood = 0.01;

    /// <summary>Nothing needs explaining.</summary>
    public static Explanations None { get; } = new([], [], [], null, null);

    /// <summary>What explains a visit.</summary>
    public static Explanations Of(Visit visit)
    {
        var basis = visit.Basis;
        if (basis.Model is not { } model || !NeedsOne(visit)) return None;
        var judging = basis.Judging ?? Judging.Default;
        var advice = NextMeasurement.Of(model, Evidence(visit), basis.Places, judging.Measuring, judging.Assumptions);
        if (advice.Diagnosis.Refusal is not null) return None;
        var listed = advice.Diagnosis.Explanations.Where(one => one.Probability >= LeastLikelihood).Take(Most).ToList();
        var sum = listed.Sum(one => one.Probability);
        return new(
            [.. listed.Select(one => View(one, visit.Worst, sum))],
            [
                .. advice.Diagnosis.Groups.Where(group => group.Members.Length > 1 && group.Probability >= LeastLikelihood)
                    .Select(group => group.Says),
            ],
            advice.Stop is null ? [.. advice.Candidates.Take(MostNext).Select(View)] : [],
            advice.Stop?.Text,
            LeadOf(advice.Diagnosis));
    }

    /// <summary>
    /// The likeliest cause of a visit's readings alone, where the rest is not wanted; none where there is none to name.
    /// </summary>
    public static string? Leading(Visit visit)
    {
        string? lead = null;
        foreach (var step in LeadingInSteps(visit)) lead = step;
        return lead;
    }

    /// <summary>The same in small steps: none for every step but the last, if there is any.</summary>
    public static IEnumerable<string?> LeadingInSteps(Visit visit)
    {
        if (visit.Explained is { } explained) return [explained.Lead];
        var basis = visit.Basis;
        if (basis.Model is not { } model || !NeedsOne(visit)) return [];
        var judging = basis.Judging ?? Judging.Default;
        return Diagnosis.ExplainInSteps(model, Evidence(visit), judging.Options, judging.Assumptions)
            .Select(result => result is null ? null : LeadOf(result));
    }

    private static string? LeadOf(DiagnosisResult result)
    {
        var lead = result.Explanations[0];
        return result.Refusal is null && lead.Kind is not (FaultKind.NoneOfThese or FaultKind.AsDesigned) ? lead.What : null;
    }

    private static bool NeedsOne(Visit visit) =>
        visit.Verdict is CircuitVerdict.Doubtful or CircuitVerdict.Outside || IsSeenDark(visit);

    // A fitting that was seen dark is a fault even where no reading is out of place.
    private static bool IsSeenDark(Visit visit) => visit.Basis.Dark is { Count: > 0 };

    /// <summary>What a visit's explanations rest on; none where nothing needs one.</summary>
    public static IReadOnlyList<MeasuredReading>? EvidenceOf(Visit visit) => NeedsOne(visit) ? Evidence(visit) : null;

    private static List<MeasuredReading> Evidence(Visit visit)
    {
        var readings = new List<MeasuredReading>(visit.Newest.Count + 8);
        readings.AddRange(OtherEvidence.Readings(visit.Basis));
        for (var i = visit.Newest.Count - 1; i >= 0; i--)
            readings.Add(ReadingJudge.Measured(visit.Newest[i].Entry, visit.Newest[i].Node));
        return readings;
    }

    private static ExplanationView View(FaultExplanation one, JudgedReading? worst, double sum)
    {
        double? predicts = null;
        if (worst is not null)
        {
            var quantity = ReadingJudge.Translate(worst.Entry.Quantity);
            var predicted = one.Predicted.FirstOrDefault(at => at.Place == worst.Node && at.Quantity == quantity)?.Value;
            if (predicted is { } value && double.IsFinite(value)) predicts = Math.Round(value, 4);
        }

        return new ExplanationView
        {
            Fault = Words.Of(one.Kind),
            Says = $"{one.What} {one.WhatToDo}",
            At = [.. one.FittingIds, .. one.RunIds, .. one.NodeIds],
            Predicts = predicts,
            PredictsQuantity = predicts is null ? null : worst!.Entry.Quantity,
            Likelihood = Math.Round(one.Probability / sum, 4),
            AlsoShows = one.AlsoShows.Length == 0 ? null : one.AlsoShows,
            Group = one.Group,
        };
    }

    private static NextReadingView View(MeasuringCandidate candidate) => new()
    {
        Places = candidate.Places,
        Quantity = WireWord.Of<MeasuredQuantity, MeasuredAs>(candidate.Quantity),
        Says = candidate.Text,
        Caution = candidate.Caution,
        Minutes = Math.Round(candidate.EffortMinutes, 1),
        Bits = Math.Round(candidate.Bits, 2),
        WouldRead = [.. candidate.WouldRead.Select(would => $"{would.Text} – if so: {would.If}")],
    };
}
