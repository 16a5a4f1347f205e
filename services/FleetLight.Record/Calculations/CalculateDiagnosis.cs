using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Calculations.Mapping;

namespace FleetLight.Record.Calculations;

/// <summary>What would explain a circuit's readings.</summary>
public static class CalculateDiagnosis
{
    /// <summary>The answer, or what is wrong with the request.</summary>
    /// <param name="request">What is asked, as <see cref="Checks.RequestCheck"/> finds it sound.</param>
    public static Calculated<DiagnosisAnswer> Answer(DiagnosisRequest request)
    {
        var result = Diagnosis.Explain(
            CircuitMapping.Model(request.Circuit),
            [.. request.Readings.Select(CircuitMapping.Reading)],
            DiagnosisMapping.Options(request.LookFor),
            CircuitMapping.Assumed(request.Assumptions));
        if (result.Refusal is { } cannot && Refusals.ProblemOf(cannot) is { } problem) return problem;
        return new DiagnosisAnswer
        {
            ModelVersion = result.ModelVersion,
            NoAnswer = result.Refusal is { } refusal ? Refusals.NoAnswerOf(refusal) : null,
            Diagnosis = result.Refusal is null ? DiagnosisMapping.Findings(result) : null,
        };
    }
}
