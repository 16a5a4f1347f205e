using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FleetLight.Electrics.Tests.Totality;

/// <summary>
/// Whatever is changed in whatever circuit: an operating point with numbers that can be, or a named refusal, never an
/// exception.
/// </summary>
public class PlanTotalityTests
{
    private static readonly double[] Deviations = [0, 1.7, -1.7, 10, -10, 1000, -1000];

    private static readonly string?[] Places = ["driver", "n0", "n1", "box", "", null, "nowhere"];

    [Property(Arbitrary = [typeof(Hostile)], MaxTest = 4000)]
    public void Solutions_are_total(CircuitModel model, CircuitChange[] changes, Assumptions assumptions, PositiveInt seed)
    {
        var plan = CircuitPlan.TryLay(model, assumptions, out var refusal);
        if (plan is null)
        {
            Named(refusal);
            return;
        }

        var random = new System.Random(seed.Get);
        var deviations = plan.Inputs.Select(_ => Deviations[random.Next(Deviations.Length)]).ToArray();
        Answers(plan, changes, []);
        Answers(plan, changes, deviations);
    }

    [Fact]
    public void The_generator_reaches_operating_points_of_both_drives_and_refusals()
    {
        var series = 0;
        var networks = 0;
        var refused = 0;
        foreach (var model in Hostile.Circuits().Generator.Sample(2000))
        {
            var changes = Hostile.Changes().Generator.Sample(1)[0];
            switch (CircuitPlan.TryLay(model, null, out _)?.Solve([.. changes], []))
            {
                case SeriesPoint: series++; break;
                case NetworkPoint: networks++; break;
                default: refused++; break;
            }
        }

        Assert.True(Math.Min(series, Math.Min(networks, refused)) > 30, $"{series}, {networks}, {refused}");
    }

    private static void Answers(CircuitPlan plan, CircuitChange[] changes, double[] deviations)
    {
        if (plan.Solve([.. changes], deviations, out var refusal) is not { } state)
        {
            Named(refusal);
            return;
        }

        var parts = new double[state.Inputs];
        foreach (var place in Places.Concat(state.Places))
        {
            foreach (var quantity in Enum.GetValues<MeasuredQuantity>())
            {
                if (!state.Predicts(place, quantity)) continue;
                var value = state.Predict(place!, quantity, parts);
                Assert.True(
                    double.IsFinite(value) && parts.All(double.IsFinite),
                    $"{quantity} at {place}: {value}, parts {string.Join(" ", parts)}; {string.Join("; ", (object[])changes)}");
            }
        }

        for (var i = 0; i < plan.Model.Fittings.Length; i++) Assert.True(state.LitShare(i) >= 0, $"fitting {i}");
    }

    private static void Named(CannotExpect? refusal) => Assert.True(refusal is { Text.Length: > 0, Field.Length: > 0 });
}
