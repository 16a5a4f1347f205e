using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Calculations.Mapping;

namespace FleetLight.Record.Calculations;

/// <summary>Where to measure next.</summary>
public static class CalculateNextMeasurement
{
    private const int UsualCandidates = 10;

    /// <summary>The answer, or what is wrong with the request.</summary>
    /// <param name="request">What is asked, as <see cref="Checks.RequestCheck"/> finds it sound.</param>
    public static Calculated<NextMeasurementAnswer> Answer(NextMeasurementRequest request)
    {
        var advice = NextMeasurement.Of(
            CircuitMapping.Model(request.Circuit),
            [.. request.Readings.Select(CircuitMapping.Reading)],
            request.Places is { } places ? [.. places.Select(MeasuringMapping.Place)] : null,
            MeasuringMapping.Options(request),
            CircuitMapping.Assumed(request.Assumptions));
        var refusal = advice.Diagnosis.Refusal;
        if (refusal is not null && Refusals.ProblemOf(refusal) is { } problem) return problem;
        return MeasuringMapping.Answer(advice, request.MostCandidates ?? UsualCandidates);
    }
}
