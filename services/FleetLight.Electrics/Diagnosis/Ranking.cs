using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Turns weighed hypotheses into explanations: merged, ranked and grouped.</summary>
internal sealed class Ranking(CircuitModel model, ReadingSet readings)
{
    /// <summary>Explanations below this probability are left out.</summary>
    private const double LeastProbability = 1e-6;

    private const int MostExplanations = 24;

    /// <summary>
    /// Predictions closer than this, in standard uncertainties over all readings together, count as not to be told
    /// apart.
    /// </summary>
    private const double SameReadings = 0.5;

    public ImmutableArray<FaultExplanation> Rank(List<Hypothesis> hypotheses)
    {
        var best = hypotheses.Max(h => h.LogWeight);
        var total = hypotheses.Sum(h => Math.Exp(h.LogWeight - best));
        var merged = new List<(Hypothesis Lead, List<Hypothesis> All, double Probability)>();
        foreach (var hypothesis in hypotheses.OrderByDescending(h => h.LogWeight))
        {
            var probability = Math.Exp(hypothesis.LogWeight - best) / total;
            var at = merged.FindIndex(m => SameExplanation(m.Lead, hypothesis));
            if (at < 0) merged.Add((hypothesis, [hypothesis], probability));
            else
            {
                merged[at].All.Add(hypothesis);
                merged[at] = merged[at] with { Probability = merged[at].Probability + probability };
            }
        }

        var kept = merged
            .OrderByDescending(m => m.Probability)
            .Where((m, i) => m.Lead.Kind == FaultKind.NoneOfThese
                || (i < MostExplanations && m.Probability >= LeastProbability))
            .ToList();
        var groups = Groups(kept.ConvertAll(m => m.Lead));
        return [.. kept.Select((m, i) => Explain(m.Lead, m.All, m.Probability, groups[i], hypotheses))];
    }

    // The same fault in several places is one explanation where the readings cannot tell the places apart.
    private bool SameExplanation(Hypothesis a, Hypothesis b) =>
        a.Kind == b.Kind
        && a.FreeFigure == b.FreeFigure
        && a.Bypassed == b.Bypassed
        && (double.IsNaN(a.Figure) || IsFitted(a) || a.Figure.Equals(b.Figure))
        && (a.Fitting < 0 || model.Fittings[a.Fitting].RatedWatts.Equals(model.Fittings[b.Fitting].RatedWatts))
        && SamePrediction(a, b);

    private static bool IsFitted(Hypothesis h) =>
        h.FreeFigure || h.Kind is FaultKind.HighResistanceJoint or FaultKind.CableLonger or FaultKind.CableShorter;

    private bool SamePrediction(Hypothesis a, Hypothesis b)
    {
        double distance = 0;
        for (var i = 0; i < readings.Count; i++)
        {
            double one = a.Prediction.Mean[i], other = b.Prediction.Mean[i];
            if (double.IsNaN(one) != double.IsNaN(other)) return false;
            if (double.IsNaN(one)) continue;
            var variance = Math.Min(Variance(a, i), Variance(b, i));
            distance += (one - other) * (one - other) / variance;
        }

        return distance <= SameReadings * SameReadings;
    }

    private double Variance(Hypothesis h, int reading) =>
        h.Prediction.Covariance[(reading * readings.Count) + reading] + readings.MeterVariance(reading);

    private int[] Groups(List<Hypothesis> ranked)
    {
        var groups = new int[ranked.Count];
        var next = 1;
        for (var i = 0; i < ranked.Count; i++)
        {
            if (groups[i] != 0) continue;
            groups[i] = next;
            for (var j = i + 1; j < ranked.Count; j++)
                if (groups[j] == 0 && SamePrediction(ranked[i], ranked[j])) groups[j] = next;
            next++;
        }

        return groups;
    }

    private FaultExplanation Explain(
        Hypothesis lead, List<Hypothesis> all, double probability, int group, List<Hypothesis> hypotheses)
    {
        var fittings = all.Where(h => h.Fitting >= 0).Select(h => h.Fitting).Distinct().Order()
            .Select(i => model.Fittings[i].Id).ToImmutableArray();
        var runs = all.Where(h => h.Run >= 0).Select(h => h.Run).Distinct().Order()
            .Select(i => model.Runs[i].Id).ToImmutableArray();
        var constantCurrent = model.Drive == Contracts.DriveKind.ConstantCurrent;
        double? Figure(params ReadOnlySpan<FaultKind> kinds) => kinds.Contains(lead.Kind) ? lead.Figure : null;
        var driver = Figure(FaultKind.WrongDriverOutput);
        return new FaultExplanation(
            lead.Kind,
            FaultWording.What(lead, model, fittings, runs),
            FaultWording.WhatToDo(lead.Kind),
            probability,
            group)
        {
            FittingIds = fittings,
            RunIds = runs,
            Watts = Figure(FaultKind.FittingOfOtherWattage, FaultKind.OneFittingTooMany),
            BestFitWatts = BestFitWatts(lead, hypotheses),
            JointOhms = Figure(FaultKind.HighResistanceJoint),
            LengthFactor = Figure(FaultKind.CableLonger, FaultKind.CableShorter),
            DriverMilliamps = constantCurrent ? driver : null,
            DriverVoltsDc = constantCurrent ? null : driver,
            Predicted = [.. Enumerable.Range(0, readings.Count).Select(i => Predicted(lead, i))],
            Misfit = lead.Likelihood.Used > 0
                ? Math.Sqrt(lead.Likelihood.SquaredDistance / lead.Likelihood.Used)
                : null,
        };
    }

    private static double? BestFitWatts(Hypothesis lead, List<Hypothesis> hypotheses) =>
        lead.Kind == FaultKind.FittingOfOtherWattage
            ? hypotheses.Find(h => h.FreeFigure && h.Kind == lead.Kind && h.Fitting == lead.Fitting)?.Figure
            : null;

    private PredictedReading Predicted(Hypothesis hypothesis, int i)
    {
        var mean = hypothesis.Prediction.Mean[i];
        var known = double.IsFinite(mean);
        return new PredictedReading(
            readings[i].Place,
            readings[i].Quantity,
            known ? mean : null,
            known ? Math.Sqrt(Variance(hypothesis, i)) : null,
            readings[i].Value);
    }
}
