namespace FleetLight.Electrics;

/// <summary>First-order propagation through a circuit, and whether it is enough.</summary>
internal static class FirstOrder
{
    // So far out, in standard uncertainties, a quantity is tried.
    private const double Reach = 2;

    // By so much of a standard uncertainty it may depart there from the straight line. Judgement, no source: the ends of the
    // 95 % interval are then right to an eighth.
    private const double MostDeparture = 0.25;

    /// <summary>The first-order estimate of a quantity that is predicted.</summary>
    public static Estimate Of(CircuitPlan plan, ICircuitState state, string place, MeasuredQuantity quantity)
    {
        var parts = new double[state.Inputs];
        var best = state.Predict(place, quantity, parts);
        var budget = new BudgetBuilder();
        for (var i = 0; i < parts.Length; i++)
        {
            if (plan.Inputs[i].IsRectangular) budget.Rectangular(plan.Inputs[i].Source, parts[i]);
            else budget.Normal(plan.Inputs[i].Source, parts[i]);
        }

        return budget.Close(best);
    }

    /// <summary>
    /// Whether a quantity follows its first order as far as two standard uncertainties out, in the direction in which the
    /// inputs move it most. Bends that matter (a driver's limit, a fitting that drops out, voltage collapse) show there.
    /// </summary>
    public static bool IsEnough(CircuitPlan plan, ICircuitState state, string place, MeasuredQuantity quantity)
    {
        var direction = new double[state.Inputs];
        var best = state.Predict(place, quantity, direction);
        double variance = 0;
        foreach (var part in direction) variance += part * part;
        if (!(variance > 0)) return true;
        var u = Math.Sqrt(variance);
        for (var i = 0; i < direction.Length; i++) direction[i] *= Reach / u;
        if (!Follows(plan, direction, place, quantity, best + (Reach * u), u)) return false;
        for (var i = 0; i < direction.Length; i++) direction[i] = -direction[i];
        return Follows(plan, direction, place, quantity, best - (Reach * u), u);
    }

    private static bool Follows(
        CircuitPlan plan, double[] deviations, string place, MeasuredQuantity quantity, double straight, double u) =>
        plan.Solve([], deviations) is { } state
        && Math.Abs(state.Predict(place, quantity, []) - straight) <= MostDeparture * u;
}
