using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Networks;

/// <summary>Networks whose runs close rings; figures by Kirchhoff's laws.</summary>
public class RingTests
{
    // 10 m of 2.5 mm² class 5, out and back, at 20 °C by IEC 60228: 0.1596 Ω.
    private const double Ohms = 2 * 7.98e-3 * 10;

    [Fact]
    public void Two_runs_in_parallel_are_half_the_resistance()
    {
        var model = Resistors(12, Some.Run("driver", "a", 10), Some.Run("driver", "a", 10) with { Id = "second" });
        // 12 W at 12 V are 12 Ω.
        Assert.Equal(12 * 12 / (12 + (Ohms / 2)), Volts(model, "a"), 1e-12);
    }

    [Fact]
    public void A_run_from_a_node_to_itself_changes_nothing()
    {
        var model = Resistors(12, Some.Run("driver", "a", 10), Some.Run("a", "a", 10));
        Assert.Equal(12 * 12 / (12 + Ohms), Volts(model, "a"), 1e-12);
    }

    [Fact]
    public void The_middle_of_an_even_ring_is_fed_from_both_sides()
    {
        var model = Resistors(
            12, Some.Run("driver", "b", 10), Some.Run("b", "a", 10), Some.Run("a", "c", 10), Some.Run("c", "driver", 10));
        Assert.Equal(12 * 12 / (12 + Ohms), Volts(model, "a"), 1e-12);
        Assert.Equal(Volts(model, "b"), Volts(model, "c"), 1e-12);
    }

    [Fact]
    public void A_bridge_between_two_branches_carries_nothing_where_they_are_alike()
    {
        var model = Resistors(
            12, Some.Run("driver", "b", 10), Some.Run("b", "a", 10), Some.Run("driver", "c", 10),
            Some.Run("c", "a", 10), Some.Run("b", "c", 5));
        Assert.Equal(12 * 12 / (12 + Ohms), Volts(model, "a"), 1e-12);
    }

    [Fact]
    public void A_ring_of_runs_without_length_joins_its_nodes()
    {
        var model = Resistors(12, Some.Run("driver", "b", 0), Some.Run("b", "a", 0), Some.Run("a", "driver", 0));
        Assert.Equal(12, Volts(model, "a"), 1e-12);
    }

    /// <summary>
    /// Two equal runs side by side, R a core: sound the drop is I·R; with one core of one run broken all of the current goes
    /// out by the other and comes back by both, 1.5·I·R (Kirchhoff's laws by hand).
    /// </summary>
    [Fact]
    public void A_broken_core_of_two_runs_side_by_side_takes_half_as_much_again()
    {
        var model = Resistors(24, Some.Run("driver", "a", 20), Some.Run("driver", "a", 20) with { Id = "beside" });
        double Drop(params CircuitChange[] changes)
        {
            var state = SolvedCircuit.Of(model, Some.Bare, changes);
            return (12 - state.Volts("a")) / state.Volts("a");
        }

        Assert.Equal(1.5, Drop(new RunOpen(0)) / Drop(), 1e-9);
    }

    [Fact]
    public void A_broken_core_in_a_ring_leaves_everything_fed_and_better_than_without_the_run()
    {
        var model = Some.SixNodeTree();
        model = model with { Runs = model.Runs.Add(Some.Run("n3", "n5", 8)) };
        for (var run = 1; run < 6; run++)
        {
            var open = SolvedCircuit.Of(model, Some.Bare, new RunOpen(run));
            // Only n6 hangs on a single run.
            var fittings = run == 5 ? model.Fittings.RemoveAt(4) : model.Fittings;
            var cut = SolvedCircuit.Of(model with { Fittings = fittings, Runs = model.Runs.RemoveAt(run) }, Some.Bare);
            Assert.True(run == 5 || open.Volts("n5") > cut.Volts("n5"));
            Assert.Equal(run == 5 ? 0 : 1, open.Lit(4));
            Assert.All(Enumerable.Range(0, 4), fitting => Assert.Equal(1, open.Lit(fitting)));
            if (run == 5) Assert.Equal(0, open.Volts("n6"));
        }
    }

    [Fact]
    public void A_ring_carries_more_than_either_of_its_sides()
    {
        // 0.1596 Ω alone carry 12² / 4 / 0.1596 = 225.6 W at most; both sides twice that.
        var one = Load(440, Some.Run("driver", "a", 10));
        Assert.Equal(225.56, Assert.IsType<CannotExpect>(Expected.Of(one, Some.Bare)).GreatestWatts!.Value, 0.01);
        var ring = Load(440, Some.Run("driver", "a", 10), Some.Run("a", "b", 5), Some.Run("b", "driver", 5));
        Assert.Equal(
            (12 + Math.Sqrt((12 * 12) - (4 * 440 * Ohms / 2))) / 2, Some.Readings(ring, Some.Bare).Fittings[0].VoltsDc.Best,
            1e-9);
    }

    /// <summary>The way that has fewer runs can be the one that carries next to nothing.</summary>
    [Fact]
    public void A_short_way_of_high_resistance_does_not_matter()
    {
        var model = Load(
            40, Some.Run("driver", "a", 10) with { JointOhms = 500 }, Some.Run("driver", "b", 5), Some.Run("b", "a", 5));
        var alone = Load(40, Some.Run("driver", "b", 5), Some.Run("b", "a", 5));
        Assert.Equal(Volts(alone, "a"), Volts(model, "a"), 1e-3);
        Assert.True(Volts(model, "a") > Volts(alone, "a"));
    }

    [Fact]
    public void Rings_that_are_interlaced_beyond_measure_are_refused_by_name()
    {
        var random = new Random(30);
        var runs = Enumerable.Range(1, 2000).Select(i => Some.Run(i == 1 ? "driver" : $"n{i - 1}", $"n{i}", 1))
            .Concat(Enumerable.Range(0, 6000).Select(i =>
                Some.Run($"n{random.Next(1, 2001)}", $"n{random.Next(1, 2001)}", 1) with { Id = $"ring{i}" }));
        var model = Some.SixNodeTree() with { Fittings = [new("n1", 1)], Runs = [.. runs] };
        var refusal = Assert.IsType<CannotExpect>(Expected.Of(model));
        Assert.Equal((RefusalReason.OutOfRange, "runs"), (refusal.Reason, refusal.Field));
    }

    private static double Volts(CircuitModel model, string node) =>
        Some.Readings(model, Some.Bare).Nodes.Single(n => n.NodeId == node).VoltsDc.Best;

    private static CircuitModel Resistors(double watts, params RunModel[] runs) => Some.SixNodeTree() with
    {
        Fittings = [new("a", watts) { Load = LoadKind.Resistive }],
        Runs = [.. runs],
    };

    private static CircuitModel Load(double watts, params RunModel[] runs) => Some.SixNodeTree() with
    {
        Fittings = [new("a", watts)],
        Runs = [.. runs],
    };
}
