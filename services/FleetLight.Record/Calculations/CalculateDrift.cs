using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Calculations.Mapping;

namespace FleetLight.Record.Calculations;

/// <summary>Whether readings over months drift.</summary>
public static class CalculateDrift
{
    /// <summary>The answer, or what is wrong with the request.</summary>
    /// <param name="request">What is asked, as <see cref="Checks.RequestCheck"/> finds it sound.</param>
    public static Calculated<DriftAnswer> Answer(DriftRequest request)
    {
        var found = Drift.Of(DriftMapping.Series(request), DriftMapping.Options(request.Options));
        return new DriftAnswer
        {
            ModelVersion = Expected.ModelVersion,
            Finding = found is DriftFinding finding ? DriftMapping.Findings(finding, request.Chart ?? false) : null,
            CannotTell = found is CannotTellDrift cannot ? DriftMapping.CannotTell(cannot) : null,
        };
    }
}
