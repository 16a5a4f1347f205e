using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// Works out what a circuit should read by simulation (JCGM 101): everything that is uncertain is drawn by chance, again and
/// again, and the circuit solved exactly each time. For circuits near a driver's limit or near voltage collapse, where the
/// first order of <see cref="Expected"/> is not enough, and to check it elsewhere.
/// </summary>
public static class Simulated
{
    /// <summary>Most fittings and runs together of a circuit that is simulated.</summary>
    public const int MostParts = 500;

    /// <summary>Most quantities that are worked out: those at the driver, then volts at places in order.</summary>
    public const int MostQuantities = 64;

    // Trials times parts: a few seconds.
    private const int MostWork = 40_000_000;

    // More would take longer than the simulation.
    private const int MostInputsOfSecondOrder = 64;

    /// <summary>Simulates a circuit that is sound and built as recorded.</summary>
    /// <param name="model">The circuit. Any content is answered.</param>
    /// <param name="options">How to simulate; the stated defaults if null.</param>
    /// <param name="assumptions">What is assumed where the record is silent; the stated defaults if null.</param>
    public static SimulatedReadings Of(
        CircuitModel? model, SimulationOptions? options = null, Assumptions? assumptions = null)
    {
        var asked = options ?? SimulationOptions.Default;
        if (asked.Obstacle is { } bad) return Refused(bad);
        var plan = CircuitPlan.TryLay(model, assumptions, out var refusal);
        if (plan is null) return Refused(refusal);
        var parts = plan.Model.Fittings.Length + plan.Model.Runs.Length;
        if (parts > MostParts)
        {
            return Refused(new CannotExpect(
                RefusalReason.OutOfRange, $"Circuits of up to {MostParts} fittings and runs are simulated.", "model"));
        }

        var best = plan.Solve([], [], out refusal);
        return best is null ? Refused(refusal) : Run(plan, best, asked, MostWork / parts);
    }

    private static SimulatedReadings Run(CircuitPlan plan, ICircuitState best, SimulationOptions asked, int affordable)
    {
        var wanted = Wanted(best);
        bool Solve(ReadOnlySpan<double> deviations, Span<double> outputs)
        {
            if (plan.Solve([], deviations) is not { } state) return false;
            for (var i = 0; i < wanted.Length; i++) outputs[i] = state.Predict(wanted[i].Place, wanted[i].Quantity, []);
            return true;
        }

        var simulation = MonteCarlo.Run(
            Solve, plan.Inputs, wanted.Length, asked.SignificantDigits, Math.Min(asked.MostTrials, affordable),
            unchecked((ulong)asked.Seed));
        var second = plan.Inputs.Length <= MostInputsOfSecondOrder
            ? SecondOrder.Of(Solve, plan.Inputs, wanted.Length)
            : [];
        var quantities = new SimulatedQuantity[simulation.Outputs.Length];
        for (var i = 0; i < quantities.Length; i++)
        {
            var firstOrder = FirstOrder.Of(plan, best, wanted[i].Place, wanted[i].Quantity);
            quantities[i] = SimulatedQuantity.Of(
                wanted[i].Place, wanted[i].Quantity, firstOrder, simulation.Outputs[i], asked.SignificantDigits) with
            {
                SecondOrderShift = second.IsEmpty ? null : second[i].Shift,
                SecondOrderStandardUncertainty = second.IsEmpty ? null : second[i].StandardUncertainty,
            };
        }

        return new SimulatedReadings
        {
            Seed = asked.Seed,
            Trials = simulation.Trials,
            ShareWithoutOperatingPoint = simulation.WithoutAnswer / (double)simulation.Trials,
            Quantities = [.. quantities],
        };
    }

    private static ImmutableArray<(string Place, MeasuredQuantity Quantity)> Wanted(ICircuitState state)
    {
        var wanted = ImmutableArray.CreateBuilder<(string, MeasuredQuantity)>();
        foreach (var quantity in (ReadOnlySpan<MeasuredQuantity>)
            [MeasuredQuantity.VoltsDc, MeasuredQuantity.Milliamps, MeasuredQuantity.LoopOhms])
        {
            if (state.Predicts(CircuitModel.DriverNode, quantity)) wanted.Add((CircuitModel.DriverNode, quantity));
        }

        foreach (var place in state.Places)
        {
            if (place != CircuitModel.DriverNode && wanted.Count < MostQuantities
                && state.Predicts(place, MeasuredQuantity.VoltsDc)) wanted.Add((place, MeasuredQuantity.VoltsDc));
        }

        return wanted.ToImmutable();
    }

    private static SimulatedReadings Refused(CannotExpect? refusal) => new() { Refusal = refusal };
}

/// <summary>How to simulate.</summary>
public sealed record SimulationOptions
{
    /// <summary>The stated defaults.</summary>
    public static SimulationOptions Default { get; } = new();

    /// <summary>Any number; the same one gives the same answer.</summary>
    public long Seed { get; init; } = 1;

    /// <summary>
    /// Significant digits of the standard uncertainty that are meant to be right, 1 or 2. It is simulated until twice the
    /// standard deviation of each result is a fifth of half a unit of the last one (JCGM 101, clauses 7.9 and 8.2).
    /// </summary>
    public int SignificantDigits { get; init; } = 1;

    /// <summary>
    /// Most trials, 20,000 to 1,000,000; fewer are made of large circuits, so that trials times parts stay below
    /// 40,000,000.
    /// </summary>
    public int MostTrials { get; init; } = 200_000;

    internal CannotExpect? Obstacle =>
        SignificantDigits is not (1 or 2)
            ? new(RefusalReason.OutOfRange, "One or two significant digits may be asked for.", "options.significantDigits")
        : MostTrials is not (>= 20_000 and <= 1_000_000)
            ? new(RefusalReason.OutOfRange, "20000 to 1000000 trials may be asked for.", "options.mostTrials")
        : null;
}
