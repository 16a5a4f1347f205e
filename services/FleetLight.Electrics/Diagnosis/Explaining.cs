using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Puts hypotheses that are one explanation into words and figures.</summary>
internal static class Explaining
{
    // Explanations below this probability get no figures for other places.
    private const double LeastForElsewhere = 0.01;

    // Pieces of a figure's range below this share of the explanation do not widen what is said of the figure.
    private const double LeastShareOfRange = 0.05;

    /// <summary>An explanation.</summary>
    /// <param name="plan">The circuit.</param>
    /// <param name="evidence">The readings.</param>
    /// <param name="sound">The circuit as designed.</param>
    /// <param name="one">The hypotheses.</param>
    /// <param name="rival">The likeliest circuit of another group: what figures elsewhere would tell it from.</param>
    /// <param name="bestFitWatts">For another wattage: the wattage that fits best.</param>
    public static FaultExplanation Of(
        CircuitPlan plan, Evidence evidence, ICircuitState sound, Ranking.Merged one, ICircuitState rival,
        double? bestFitWatts)
    {
        var lead = one.Lead;
        var finding = Finding(plan.Model, evidence, one);
        var elsewhere = one.Probability >= LeastForElsewhere && lead.State is { } state
            ? Elsewhere.Of(evidence, sound, state, rival)
            : [];
        double? Figure(FigureMeaning meaning) =>
            lead.Case.Meaning == meaning && double.IsFinite(finding.Figure) ? finding.Figure : null;
        var driver = Figure(FigureMeaning.DriverOutput);
        return new FaultExplanation(
            lead.Kind, What(lead, finding, evidence), lead.Definition.WhatToDo, Math.Min(1, one.Probability), one.Group)
        {
            Title = lead.Definition.Title,
            AlsoShows = string.Join(
                ' ', [lead.Definition.AlsoShowsOn(plan.Model.Drive), .. elsewhere.Select(Elsewhere.Says)]).Trim(),
            Elsewhere = elsewhere,
            FittingIds = finding.FittingIds,
            RunIds = finding.RunIds,
            NodeIds = finding.NodeIds,
            Watts = Figure(FigureMeaning.Watts),
            BestFitWatts = bestFitWatts,
            JointOhms = Figure(FigureMeaning.JointOhms),
            LeakOhms = Figure(FigureMeaning.LeakOhms),
            LengthFactor = Figure(FigureMeaning.LengthFactor),
            AreaSquareMillimetres = Figure(FigureMeaning.AreaSquareMillimetres),
            DriverMilliamps = finding.IsSeries ? driver : null,
            DriverVoltsDc = finding.IsSeries ? null : driver,
            MeterFactor = Figure(FigureMeaning.MeterFactor),
            Predicted = [.. Enumerable.Range(0, evidence.Used.Length).Select(i => Predicted(lead, evidence, i))],
            Misfit = lead.Seen is { } seen && evidence.Rows.Length > 0
                ? Math.Sqrt(seen.SquaredDistance / evidence.Rows.Length)
                : null,
        };
    }

    private static string What(WeighedHypothesis lead, FaultFinding finding, Evidence evidence)
    {
        var says = lead.Definition.Says?.Invoke(finding);
        if (lead.SlipRow >= 0)
        {
            var row = evidence.Rows[lead.SlipRow];
            says = $"{says} One reading does not go with the others: {Elsewhere.Name(row.Place, row.Quantity)}. "
                + "Take it again.";
        }

        return string.IsNullOrEmpty(says) ? $"{lead.Definition.Title}." : says;
    }

    private static FaultFinding Finding(CircuitModel model, Evidence evidence, Ranking.Merged one)
    {
        var lead = one.Lead;
        var free = lead.Case.Free;
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (var piece in one.All.Where(h => h.Probability >= LeastShareOfRange * one.Probability))
        {
            var two = 2 * Math.Abs(piece.FigureBeside - piece.Figure);
            low = Math.Min(low, piece.Figure - two);
            high = Math.Max(high, piece.Figure + two);
        }

        return new FaultFinding(model, lead.Case, lead.Figure)
        {
            FigureLow = free is null ? double.NaN : Math.Max(low, free.Least),
            FigureHigh = free is null ? double.NaN : Math.Min(high, free.Most),
            FittingIds = Ids(one.All.SelectMany(h => h.Case.Fittings.OrEmpty()), i => model.Fittings[i].Id,
                model.Fittings.Length),
            RunIds = Ids(one.All.SelectMany(h => h.Case.Runs.OrEmpty()), i => model.Runs[i].Id,
                model.Runs.OrEmpty().Length),
            NodeIds = [.. one.All.SelectMany(h => h.Case.Nodes.OrEmpty()).Distinct()],
            ForReading = lead.Case.Reading >= 0 && lead.Case.Reading < evidence.Used.Length
                ? $" for {Elsewhere.Name(evidence.Used[lead.Case.Reading].Place, evidence.Used[lead.Case.Reading].Quantity)}"
                : "",
            IsOneOfSeveral = one.All.Count > 1,
        };
    }

    private static ImmutableArray<string> Ids(IEnumerable<int> indices, Func<int, string> id, int count) =>
        [.. indices.Where(i => i >= 0 && i < count).Distinct().Order().Select(id)];

    private static PredictedReading Predicted(WeighedHypothesis lead, Evidence evidence, int i)
    {
        var reading = evidence.Used[i];
        var row = evidence.RowOf[i];
        double? value = null, uncertainty = null;
        if (row < 0 && lead.State is { } state)
            value = Observer.LitProbability(state, evidence.Lamps[-1 - row].Fitting) > 0.5 ? 1 : 0;
        if (row >= 0 && row != lead.SlipRow && lead.Seen is { } seen)
        {
            var insulation = reading.Quantity == MeasuredQuantity.MegohmsInsulation;
            value = insulation ? Math.Exp(seen.Mean[row]) : seen.Mean[row];
            uncertainty = insulation ? null : seen.StandardUncertainty(row);
        }

        return new PredictedReading(reading.Place, reading.Quantity, value, uncertainty, reading.Value);
    }
}
