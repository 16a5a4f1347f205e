using System.Collections.Immutable;
using MathNet.Numerics.Statistics;

namespace FleetLight.Electrics.Tests.Diagnoses;

/// <summary>
/// What a hypothesis foretells of one more reading, given the readings so far, beside what was drawn: circuits are built at
/// random with every input normal or rectangular as stated, and the next reading of each is compared with its forecast.
/// </summary>
public class ForesightTests
{
    private static readonly CircuitModel Loop = Some.Series(1.6, 2, 1.6) with
    {
        Runs = [Some.Run("driver", "f1", 30, 1.5), Some.Run("f1", "f2", 30, 1.5), Some.Run("f2", "f3", 30, 1.5)],
    };

    private static readonly CircuitModel Tree = Some.SixNodeTree();

    [Theory]
    [InlineData("f2", MeasuredQuantity.VoltsDc)]
    [InlineData("driver", MeasuredQuantity.Milliamps)]
    [InlineData("driver", MeasuredQuantity.LoopOhms)]
    public void In_a_sound_loop_the_next_reading_falls_where_it_is_foretold(string place, MeasuredQuantity quantity) =>
        Compare(Loop, FaultKind.AsDesigned, [], [("driver", MeasuredQuantity.VoltsDc), ("f1", MeasuredQuantity.VoltsDc)],
            (place, quantity));

    [Fact]
    public void With_a_joint_of_unknown_resistance_too() => Compare(
        Loop, FaultKind.HighResistanceJoint, [new RunJointOhms(1, 40)],
        [("driver", MeasuredQuantity.VoltsDc), ("driver", MeasuredQuantity.Milliamps)], ("driver", MeasuredQuantity.LoopOhms));

    [Fact]
    public void In_a_tree_too() => Compare(
        Tree, FaultKind.AsDesigned, [], [("driver", MeasuredQuantity.VoltsDc), ("n2", MeasuredQuantity.VoltsDc)],
        ("n3", MeasuredQuantity.VoltsDc));

    [Fact]
    public void A_repeat_is_foretold_better_than_a_fresh_reading()
    {
        var circuit = Electrics.Diagnosis.Weigh(Loop, [Some.DriverVolts(16.3)], null, null, out _)!;
        var sound = circuit.Hypotheses.First(h => h.Kind == FaultKind.AsDesigned);
        var again = circuit.Foresee(sound, "driver", MeasuredQuantity.VoltsDc);
        var before = Electrics.Diagnosis.Weigh(Loop, [], null, null, out _)!;
        var fresh = before.Foresee(
            before.Hypotheses.First(h => h.Kind == FaultKind.AsDesigned), "driver", MeasuredQuantity.VoltsDc);
        Assert.True(again.Variance < fresh.Variance / 4);
        Assert.Equal(16.3, again.Mean, 0.1);
    }

    [Fact]
    public void Light_and_insulation_are_foretold()
    {
        var circuit = Electrics.Diagnosis.Weigh(
            Loop, [Some.DriverVolts(47), new("driver", MeasuredQuantity.Milliamps, 0)], null, null, out _)!;
        var open = circuit.Hypotheses.First(h => h.Kind == FaultKind.OpenLoop);
        Assert.Equal(0.02, circuit.Foresee(open, "f1", MeasuredQuantity.FittingLit).Mean, 6);
        Assert.False(circuit.Foresee(open, "nowhere", MeasuredQuantity.FittingLit).Known);
        Assert.False(circuit.Foresee(open, "nowhere", MeasuredQuantity.VoltsDc).Known);
        Assert.Equal(Math.Log(100), circuit.Foresee(open, "driver", MeasuredQuantity.MegohmsInsulation).Mean, 6);
        var none = circuit.Hypotheses.First(h => h.Kind == FaultKind.NoneOfThese && h.State is null);
        Assert.True(circuit.Foresee(none, "f1", MeasuredQuantity.VoltsDc).Variance > 100);
    }

    // Standardized by its forecast the next reading has mean 0 and standard deviation 1, within the chance of 400 draws.
    private static void Compare(
        CircuitModel model, FaultKind kind, ImmutableArray<CircuitChange> changes,
        (string, MeasuredQuantity)[] before, (string Place, MeasuredQuantity Quantity) next)
    {
        var draw = new Drawn(17);
        var scores = new List<double>();
        for (var i = 0; i < 400; i++)
        {
            var readings = draw.Read(model, changes, [.. before, next])!;
            var circuit = Electrics.Diagnosis.Weigh(model, readings[..^1], null, null, out _)!;
            if (circuit.Hypotheses.FirstOrDefault(h => h.Kind == kind) is not { } hypothesis) continue;
            var forecast = circuit.Foresee(hypothesis, next.Place, next.Quantity);
            Assert.True(forecast.Known);
            scores.Add((readings[^1].Value - forecast.Mean) / Math.Sqrt(forecast.Variance));
        }

        Assert.True(scores.Count > 350);
        Assert.Equal(0, scores.Mean(), 0.15);
        Assert.InRange(scores.StandardDeviation(), 0.85, 1.15);
    }
}
