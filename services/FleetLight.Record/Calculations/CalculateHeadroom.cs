using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Calculations.Mapping;
using FleetLight.Record.Checks;
using HeadroomAnswer = FleetLight.Contracts.Calculations.Answers.HeadroomAnswer;

namespace FleetLight.Record.Calculations;

/// <summary>Whether fittings may be added to a circuit.</summary>
public static class CalculateHeadroom
{
    /// <summary>The answer, or what is wrong with the request.</summary>
    /// <param name="request">What is asked, as <see cref="Checks.RequestCheck"/> finds it sound.</param>
    public static Calculated<HeadroomAnswer> Answer(HeadroomRequest request)
    {
        var question = HeadroomMapping.Question(request);
        var result = Headroom.Of(question, HeadroomMapping.Options(request.Limits), CircuitMapping.Assumed(request.Assumptions));
        return result.Answer is { } answer ? HeadroomMapping.Answer(answer) : ProblemOf(result.Refusal!, question);
    }

    private static FactProblem ProblemOf(CannotExpect refusal, HeadroomQuestion question)
    {
        var field = HeadroomFields.Of(refusal.Field, question);
        var problem = Refusals.ProblemOf(refusal, field)!;
        return refusal.Reason == RefusalReason.NotConnected && !field.StartsWith("circuit", StringComparison.Ordinal)
            ? problem with { Remedy = "Name a place and runs of the circuit, each run beginning where the one before ends." }
            : problem;
    }
}
