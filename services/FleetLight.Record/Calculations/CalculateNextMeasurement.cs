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
    public static Calculated<NextMeasurementAnswer> Answer(NextMeasurementRequest request) => InSteps(request).Last()!.Value;

    /// <summary>
    /// The same in small steps, for whoever must not be kept from other work meanwhile, as a page in a browser: it is worked on while
    /// the steps are gone through, and giving up is to go through no more of them.
    /// </summary>
    /// <param name="request">What is asked, as <see cref="Checks.RequestCheck"/> finds it sound.</param>
    /// <returns>None for every step but the last.</returns>
    public static IEnumerable<Calculated<NextMeasurementAnswer>?> InSteps(NextMeasurementRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        return NextMeasurement.InSteps(
            CircuitMapping.Model(request.Circuit),
            [.. request.Readings.Select(CircuitMapping.Reading)],
            request.Places is { } places ? [.. places.Select(MeasuringMapping.Place)] : null,
            MeasuringMapping.Options(request),
            CircuitMapping.Assumed(request.Assumptions))
            .Select(advice => advice is null ? default(Calculated<NextMeasurementAnswer>?) : Told(advice, request));
    }

    private static Calculated<NextMeasurementAnswer> Told(MeasuringAdvice advice, NextMeasurementRequest request)
    {
        var refusal = advice.Diagnosis.Refusal;
        if (refusal is not null && Refusals.ProblemOf(refusal) is { } problem) return problem;
        return MeasuringMapping.Answer(advice, request.MostCandidates ?? UsualCandidates);
    }
}
