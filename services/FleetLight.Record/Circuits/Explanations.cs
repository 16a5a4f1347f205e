using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Circuits;

/// <summary>Explains the readings of a visit that are not as they should be.</summary>
internal static class Explanations
{
    private const int Most = 5;

    // Less likely ones only fill the page.
    private const double LeastLikelihood = 0.01;

    public static IReadOnlyList<ExplanationView> Of(Visit visit)
    {
        if (visit.Basis.Model is not { } model || visit.Worst is not { } worst) return [];
        if (worst.View.Verdict is not (CircuitVerdict.Doubtful or CircuitVerdict.Outside)) return [];
        var readings = new List<MeasuredReading>(visit.Newest.Count);
        for (var i = visit.Newest.Count - 1; i >= 0; i--)
            readings.Add(ReadingJudge.Measured(visit.Newest[i].Entry, visit.Newest[i].Node));
        var judging = visit.Basis.Judging ?? Judging.Default;
        var result = Diagnosis.Explain(model, readings, judging.Options, judging.Assumptions);
        if (result.Refusal is not null) return [];
        var listed = result.Explanations.Where(one => one.Probability >= LeastLikelihood).Take(Most).ToList();
        var sum = listed.Sum(one => one.Probability);
        var quantity = ReadingJudge.Translate(worst.Entry.Quantity);
        return [.. listed.Select(one => View(one, worst, quantity, sum))];
    }

    private static ExplanationView View(FaultExplanation one, JudgedReading worst, MeasuredQuantity quantity, double sum)
    {
        var predicted = one.Predicted.FirstOrDefault(at => at.Place == worst.Node && at.Quantity == quantity)?.Value;
        var predicts = predicted is { } value && double.IsFinite(value) ? Math.Round(value, 4) : (double?)null;
        return new ExplanationView
        {
            Fault = Words.Of(one.Kind),
            Says = $"{one.What} {one.WhatToDo}",
            At = [.. one.FittingIds, .. one.RunIds],
            Predicts = predicts,
            PredictsQuantity = predicts is null ? null : worst.Entry.Quantity,
            Likelihood = Math.Round(one.Probability / sum, 4),
        };
    }
}
