using System.Collections.Immutable;

namespace FleetLight.Electrics.Tests.Circuits;

/// <summary>
/// First-order parts against central differences of the circuit solved with each input moved, over generated circuits
/// of both drives, sound and with every kind of change.
/// </summary>
public class PartsTests
{
    private const double Step = 1e-4;

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void Series_parts_agree_with_central_differences(int seed)
    {
        var random = new Random(seed);
        for (var i = 0; i < 400; i++)
        {
            var model = AnyCircuit.Series(random);
            Check(model, i == 0 ? [] : AnyCircuit.Changes(model, random), $"seed {seed}, circuit {i}");
        }
    }

    [Theory]
    [InlineData(3)]
    [InlineData(4)]
    public void Network_parts_agree_with_central_differences(int seed)
    {
        var random = new Random(seed);
        for (var i = 0; i < 400; i++)
        {
            var model = AnyCircuit.Network(random, rings: random.Next(4));
            Check(model, i == 0 ? [] : AnyCircuit.Changes(model, random), $"seed {seed}, circuit {i}");
        }
    }

    private static void Check(CircuitModel model, ImmutableArray<CircuitChange> changes, string which)
    {
        var plan = CircuitPlan.TryLay(model, null, out var refusal);
        Assert.True(plan is not null, refusal?.Text);
        if (plan.Solve(changes, []) is not { } state) return;
        var parts = new double[state.Inputs];
        var deviations = new double[state.Inputs];
        foreach (var quantity in Enum.GetValues<MeasuredQuantity>())
        {
            foreach (var place in state.Places)
            {
                var value = state.Predict(place, quantity, parts);
                Assert.Equal(!double.IsNaN(value), state.Predicts(place, quantity));
                if (double.IsNaN(value)) continue;
                for (var k = 0; k < parts.Length; k++)
                {
                    double At(double deviation)
                    {
                        deviations[k] = deviation;
                        var moved = plan.Solve(changes, deviations);
                        deviations[k] = 0;
                        return moved is null ? double.NaN : moved.Predict(place, quantity, new double[parts.Length]);
                    }

                    var (up, down) = (At(Step), At(-Step));
                    var slope = (up - down) / (2 * Step);
                    var bend = Math.Abs(up + down - (2 * value)) / Step;
                    // A kink within the step (a limit that binds on one side only) has no first order.
                    if (double.IsNaN(slope) || bend > 0.1 * Math.Abs(slope) + 1e-6) continue;
                    var tolerance = 1e-6 + (2e-5 * Math.Abs(value)) + (1e-4 * Math.Abs(slope));
                    Assert.True(
                        Math.Abs(slope - parts[k]) < tolerance,
                        $"{which}: {quantity} at {place}, input {k}: {parts[k]} beside {slope}, value {value}, "
                            + string.Join("; ", changes));
                }
            }
        }
    }
}
