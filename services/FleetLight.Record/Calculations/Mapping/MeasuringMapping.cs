using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Calculations.Mapping;

/// <summary>Where a meter can be put, what measuring takes, and what to measure next.</summary>
internal static class MeasuringMapping
{
    /// <summary>A place.</summary>
    public static MeasuringPlace Place(PlaceInput place) =>
        new(place.Place, WireWord.Of<ReachOfPlace, PlaceAccess>(place.Access))
        {
            EffortMinutes = place.EffortMinutes,
            IsOpen = place.IsOpen ?? false,
        };

    /// <summary>When to stop and what measuring takes.</summary>
    public static MeasuringOptions Options(NextMeasurementRequest request)
    {
        var defaults = MeasuringOptions.Default;
        return new MeasuringOptions
        {
            EnoughProbability = request.EnoughPercent / 100 ?? defaults.EnoughProbability,
            LeastBitsPerHour = request.LeastBitsPerHour ?? defaults.LeastBitsPerHour,
            Effort = Effort(request.Effort, defaults.Effort),
            Diagnosis = DiagnosisMapping.Options(request.LookFor),
        };
    }

    /// <summary>The answer.</summary>
    /// <param name="advice">What the electrics advise.</param>
    /// <param name="most">Most candidates.</param>
    public static NextMeasurementAnswer Answer(MeasuringAdvice advice, int most) => new()
    {
        ModelVersion = advice.Diagnosis.ModelVersion,
        NoAnswer = advice.Diagnosis.Refusal is { } refusal ? Refusals.NoAnswerOf(refusal) : null,
        Candidates = [.. advice.Candidates.Take(most).Select(Candidate)],
        OpenBits = advice.OpenBits,
        Stop = advice.Stop is { } stop
            ? new StopAnswer
            {
                Reason = WireWord.Of<StopReason, StopMeasuringReason>(stop.Reason),
                Text = stop.Text,
                ProbabilityPercent = 100 * stop.Probability,
            }
            : null,
        Diagnosis = advice.Diagnosis.Refusal is null ? DiagnosisMapping.Findings(advice.Diagnosis) : null,
    };

    private static CandidateAnswer Candidate(MeasuringCandidate candidate) => new()
    {
        Places = [.. candidate.Places],
        Quantity = WireWord.Of<MeasuredQuantity, MeasuredAs>(candidate.Quantity),
        Bits = candidate.Bits,
        EffortMinutes = candidate.EffortMinutes,
        BitsPerHour = candidate.BitsPerHour,
        Text = candidate.Text,
        Caution = candidate.Caution,
        WouldRead =
        [
            .. candidate.WouldRead.Select(would => new WouldReadAnswer
            {
                If = would.If,
                ProbabilityPercent = 100 * would.Probability,
                Text = would.Text,
                Value = would.Value,
                StandardUncertainty = would.StandardUncertainty,
            }),
        ],
    };

    private static MeasuringEffort Effort(EffortInput? given, MeasuringEffort defaults) => given is null
        ? defaults
        : new MeasuringEffort
        {
            WalkMinutes = given.WalkMinutes ?? defaults.WalkMinutes,
            OpenBoxMinutes = given.OpenBoxMinutes ?? defaults.OpenBoxMinutes,
            OpenFittingMinutes = given.OpenFittingMinutes ?? defaults.OpenFittingMinutes,
            DigMinutes = given.DigMinutes ?? defaults.DigMinutes,
            VoltsMinutes = given.VoltsMinutes ?? defaults.VoltsMinutes,
            MilliampsMinutes = given.MilliampsMinutes ?? defaults.MilliampsMinutes,
            IsolateMinutes = given.IsolateMinutes ?? defaults.IsolateMinutes,
            OhmsMinutes = given.OhmsMinutes ?? defaults.OhmsMinutes,
            BridgeFittingMinutes = given.BridgeFittingMinutes ?? defaults.BridgeFittingMinutes,
            LookMinutes = given.LookMinutes ?? defaults.LookMinutes,
        };
}
