using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Calculations.Mapping;

namespace FleetLight.Record.Calculations;

/// <summary>What a circuit should read.</summary>
public static class CalculateExpected
{
    /// <summary>The answer, or what is wrong with the request.</summary>
    /// <param name="request">What is asked, as <see cref="Checks.RequestCheck"/> finds it sound.</param>
    public static Calculated<ExpectedAnswer> Answer(ExpectedRequest request)
    {
        var model = CircuitMapping.Model(request.Circuit);
        var assumed = CircuitMapping.Assumed(request.Assumptions);
        var outcome = Expected.Of(model, assumed);
        if (outcome is CannotExpect cannot && Refusals.ProblemOf(cannot) is { } problem) return problem;
        var simulated = request.Method == UncertaintyMethod.MonteCarlo
            ? Simulated.Of(model, SimulationMapping.Options(request.Simulation), assumed)
            : null;
        if (simulated?.Refusal is { } unable && Refusals.ProblemOf(unable) is { } tooLarge) return tooLarge;
        return new ExpectedAnswer
        {
            ModelVersion = Expected.ModelVersion,
            Expected = outcome is ExpectedReadings readings ? FigureMapping.Figures(readings, request.PartBudgets ?? false) : null,
            Simulated = simulated is null ? null : SimulationMapping.Figures(simulated),
            NoAnswer = outcome is CannotExpect refusal ? Refusals.NoAnswerOf(refusal) : null,
            Touch = FigureMapping.Touch(ExtraLowVoltage.Assess(model.Driver)),
        };
    }
}
