using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Electrics;
using FleetLight.Record.Checks;
using FleetLight.Record.Files;

namespace FleetLight.Record.Calculations.Mapping;

/// <summary>
/// Refusals of the electrics. What the request got wrong is a problem; a circuit that cannot work is an answer about it,
/// with figures of its own, and says nothing against the request.
/// </summary>
internal static class Refusals
{
    private const string Circuit = "circuit";

    /// <summary>What the request got wrong; none where its circuit cannot work.</summary>
    public static FactProblem? ProblemOf(CannotExpect refusal) => ProblemOf(refusal, FieldOf(refusal.Field));

    /// <summary>What the request got wrong; none where its circuit cannot work.</summary>
    /// <param name="refusal">What the electrics say.</param>
    /// <param name="field">The member of the request that they mean.</param>
    public static FactProblem? ProblemOf(CannotExpect refusal, string field) => RemedyOf(refusal) is not { } remedy
        ? null
        : new FactProblem(
            field,
            refusal.Reason == RefusalReason.OutOfRange ? FactProblemKind.OutOfRange : FactProblemKind.Invalid,
            refusal.Text,
            remedy);

    /// <summary>What an answer says of a circuit that cannot work.</summary>
    public static NoAnswer NoAnswerOf(CannotExpect refusal) => new()
    {
        Reason = WireWord.Of<RefusalReason, NoAnswerReason>(refusal.Reason),
        Text = refusal.Text,
        Field = FieldOf(refusal.Field),
        GreatestWatts = refusal.GreatestWatts,
    };

    /// <summary>The problem of an input outside its range.</summary>
    /// <param name="refusal">What the electrics say.</param>
    /// <param name="field">The member of the request that it is.</param>
    public static FactProblem ProblemOf(InputRefusal refusal, string field) =>
        new(field, FactProblemKind.OutOfRange, refusal.Text, "Give it within its range.");

    /// <summary>The member of the request that the electrics mean by a part of their model.</summary>
    public static string FieldOf(string part) =>
        part is Circuit or "model" ? Circuit
        : part.StartsWith("assumptions", StringComparison.Ordinal) ? part
        : $"{Circuit}.{part}"
                .Replace("driver.outputTolerancePercent", "driver.tolerancePercent", StringComparison.Ordinal)
                .Replace("].id", part.StartsWith("runs", StringComparison.Ordinal) ? "].runId" : "].fittingId", StringComparison.Ordinal);

    private static string? RemedyOf(CannotExpect refusal) => refusal.Reason switch
    {
        RefusalReason.OutOfRange when refusal.Field == "runs" => "Open some of the rings: leave one run of each out.",
        RefusalReason.DriverRatingMissing => "Give the driver's rated output: mA for constant current, V for constant voltage.",
        RefusalReason.NoFittings => "Give at least one fitting.",
        RefusalReason.OutOfRange => "Check the unit and the decimal point, then give it within its range.",
        RefusalReason.NonStandardArea => "Give an area of IEC 60228: 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10 or 16 mm².",
        RefusalReason.BadId => "Give each fitting and each run an id of its own other than 'driver'.",
        RefusalReason.NotConnected => "Give the runs that lead from 'driver' to every fitting.",
        _ => null,
    };
}
