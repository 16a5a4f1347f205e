using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Calculations.Mapping;
using FleetLight.Record.Files;

namespace FleetLight.Record.Calculations;

/// <summary>Whether readings are what a sound circuit would show.</summary>
public static class CalculateVerdict
{
    /// <summary>The answer, or what is wrong with the request.</summary>
    /// <param name="request">What is asked, as <see cref="Checks.RequestCheck"/> finds it sound.</param>
    public static Calculated<VerdictAnswer> Answer(VerdictRequest request)
    {
        var model = CircuitMapping.Model(request.Circuit);
        var assumed = CircuitMapping.Assumed(request.Assumptions);
        var outcome = Expected.Of(model, assumed);
        if (outcome is CannotExpect cannot && Refusals.ProblemOf(cannot) is { } problem) return problem;
        var rule = CircuitMapping.Rule(request.Rule);
        return new VerdictAnswer
        {
            ModelVersion = Expected.ModelVersion,
            NoAnswer = outcome is CannotExpect refusal ? Refusals.NoAnswerOf(refusal) : null,
            Verdicts = outcome is ExpectedReadings ? [.. request.Readings.Select(reading => Judge(outcome, reading, rule))] : [],
            Together = outcome is ExpectedReadings reads && IsTogether(request)
                ? Together(Verdicts.JudgeAll(model, reads, [.. request.Readings.Select(CircuitMapping.Reading)], rule, assumed))
                : null,
        };
    }

    /// <summary>Whether the readings of a request are judged together, which is the dearer part.</summary>
    public static bool IsTogether(VerdictRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        return request.Readings.Length > 1
            && request.Circuit.Fittings.Length + request.Circuit.Runs.Length <= CalculationLimits.MostPartsJudgedTogether;
    }

    private static JudgedTogether? Together(JointVerdict all) => all.Compared < 2 ? null : new JudgedTogether
    {
        Verdict = WireWord.Of<VerdictKind, ReadingVerdict>(all.Kind),
        Text = all.Text,
        Compared = all.Compared,
        FartherOffPercent = 100 * all.ShareFartherOff,
        AsDesignedPercent = 100 * all.ProbabilityAsDesigned,
        FalseAlarmPercent = 100 * all.RiskOfFailingGood,
        LeastFitting = all.LeastFitting,
    };

    private static JudgedReading Judge(ExpectedOutcome expected, ReadingInput reading, DecisionRule rule)
    {
        var verdict = Verdicts.Judge(expected, CircuitMapping.Reading(reading), rule);
        return new JudgedReading
        {
            Place = reading.Place,
            Quantity = reading.Quantity,
            Value = reading.Value,
            Verdict = WireWord.Of<VerdictKind, ReadingVerdict>(verdict.Kind),
            Reason = WireWord.Of<VerdictReason, ReadingVerdictReason>(verdict.Reason),
            Text = verdict.Text,
            Expected = verdict.Expected,
            StandardUncertainty = verdict.StandardUncertainty,
            Low = verdict.Low,
            High = verdict.High,
            Deviations = verdict.Deviations,
            Tolerance = verdict.Tolerance,
            GuardBand = verdict.GuardBand,
            OutsideBeyond = verdict.OutsideBeyond,
            AsDesignedPercent = 100 * verdict.ProbabilityAsDesigned,
            MissedFaultPercent = 100 * verdict.RiskOfPassingBad,
            FalseAlarmPercent = 100 * verdict.RiskOfFailingGood,
        };
    }
}
