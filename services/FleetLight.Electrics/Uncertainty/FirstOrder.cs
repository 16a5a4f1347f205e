using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>First-order propagation through a circuit, and whether it is enough.</summary>
internal static class FirstOrder
{
    // So far out, in standard uncertainties, a quantity is tried.
    private const double Reach = 2;

    private const double Root3 = 1.7320508075688772;

    // Below that the square of the drop is lost in the uncertainty.
    private const double NoticeableDropPercent = 10;

    // By so much of a standard uncertainty it may depart there from the straight line. Judgement, no source: the ends of the
    // 95 % interval are then right to an eighth.
    private const double MostDeparture = 0.25;

    /// <summary>The first-order estimate of a quantity that is predicted.</summary>
    public static Estimate Of(CircuitPlan plan, ICircuitState state, string place, MeasuredQuantity quantity)
    {
        var parts = new double[state.Inputs];
        var best = state.Predict(place, quantity, parts);
        var budget = new BudgetBuilder();
        budget.Add(parts, plan.Inputs);
        return budget.Close(best);
    }

    /// <summary>
    /// A remark where first order is not enough for what a circuit should read: none, or one. Only what may bend is tried, so
    /// that an ordinary circuit costs nothing.
    /// </summary>
    public static ExpectationNote? Note(CircuitPlan plan, ExpectedReadings reads)
    {
        if (!MayBend(plan.Model, reads)) return null;
        var worst = 0;
        for (var i = 1; i < reads.Fittings.Length; i++)
            if (Room(i, plan.Model, reads) < Room(worst, plan.Model, reads)) worst = i;
        Watched[] watched =
        [
            new(CircuitModel.DriverNode, MeasuredQuantity.VoltsDc, reads.DriverVoltsDc),
            new(CircuitModel.DriverNode, MeasuredQuantity.Milliamps, reads.DriverMilliamps),
            new(reads.Fittings[worst].FittingId, MeasuredQuantity.VoltsDc, reads.Fittings[worst].VoltsDc),
        ];
        if (IsEnough(plan, watched)) return null;
        return new ExpectationNote(
            NoteCode.FirstOrderNotEnough,
            "So near a limit the readings do not follow their inputs in a straight line: the stated uncertainty is a rough "
                + "figure, a simulation gives a better one.",
            reads.Drive == DriveKind.ConstantCurrent ? "driver" : "runs");
    }

    // Whether the quantities follow their first order as far as two standard uncertainties out, or as tolerances allow, in
    // the direction in which the inputs move each of them most. Bends that matter (a driver's limit, a fitting that drops
    // out, voltage collapse) show there.
    private static bool IsEnough(CircuitPlan plan, Watched[] watched)
    {
        if (plan.Solve([], []) is not { } state) return false;
        foreach (var one in watched)
        {
            one.Parts = new double[state.Inputs];
            var best = state.Predict(one.Place, one.Quantity, one.Parts);
            if (!one.IsNear(best, one.Estimate.Best)) return false;
        }

        var deviations = new double[state.Inputs];
        foreach (var one in watched)
        {
            foreach (var side in (ReadOnlySpan<double>)[Reach, -Reach])
            {
                if (!(one.Estimate.StandardUncertainty > 0)) continue;
                for (var i = 0; i < deviations.Length; i++)
                {
                    deviations[i] = side * one.Parts[i] / one.Estimate.StandardUncertainty;
                    if (plan.Inputs[i].IsRectangular) deviations[i] = Math.Clamp(deviations[i], -Root3, Root3);
                }

                if (!Follow(plan, watched, deviations)) return false;
            }
        }

        return true;
    }

    private static bool Follow(CircuitPlan plan, Watched[] watched, ReadOnlySpan<double> deviations)
    {
        if (plan.Solve([], deviations) is not { } moved) return false;
        foreach (var one in watched)
        {
            var straight = one.Estimate.Best;
            for (var i = 0; i < deviations.Length; i++) straight += one.Parts[i] * deviations[i];
            if (!one.IsNear(moved.Predict(one.Place, one.Quantity, []), straight)) return false;
        }

        return true;
    }

    private static bool MayBend(CircuitModel model, ExpectedReadings reads)
    {
        var driver = model.Driver;
        if (IsNear(reads.DriverWatts, driver.MostWatts)) return true;
        if (reads.Drive == DriveKind.ConstantCurrent) return IsNear(reads.DriverVoltsDc, driver.MostVolts);
        if (reads.WorstDropPercent > NoticeableDropPercent || IsNear(reads.DriverMilliamps, driver.MostAmps * 1000))
            return true;
        for (var i = 0; i < model.Fittings.Length; i++)
            if (IsNear(reads.Fittings[i].VoltsDc, model.Fittings[i].LeastVolts)) return true;
        return false;
    }

    private static bool IsNear(Estimate estimate, double? limit) =>
        limit is { } at && Math.Abs(at - estimate.Best) < 2 * Reach * estimate.StandardUncertainty;

    // How far a fitting is from where it drops out, V; or else from no volts at all.
    private static double Room(int fitting, CircuitModel model, ExpectedReadings reads) =>
        Math.Abs(reads.Fittings[fitting].VoltsDc.Best - model.Fittings[fitting].LeastVolts.GetValueOrDefault());

    private sealed class Watched(string place, MeasuredQuantity quantity, Estimate estimate)
    {
        public string Place => place;

        public MeasuredQuantity Quantity => quantity;

        public Estimate Estimate => estimate;

        public double[] Parts { get; set; } = [];

        public bool IsNear(double value, double straight) =>
            Math.Abs(value - straight) <= (MostDeparture * estimate.StandardUncertainty) + (1e-9 * Math.Abs(straight));
    }
}
