using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Networks;

public class TreeShapeTests
{
    [Fact]
    public void A_run_that_hangs_in_the_air_is_refused() => Refused(
        RefusalReason.NotConnected, "runs[1]", Some.Run("driver", "a", 5), Some.Run("b", "c", 5));

    [Fact]
    public void A_fitting_without_a_run_is_refused() => Refused(
        RefusalReason.NotConnected, "fittings[1].id", Some.Run("driver", "a", 5));

    [Fact]
    public void A_run_of_no_length_joins_its_ends()
    {
        var model = Model(Some.Run("driver", "a", 0), Some.Run("a", "b", 0));
        Assert.All(Some.Readings(model, Some.Bare).Nodes, n => Assert.Equal(12, n.VoltsDc.Best));
    }

    [Fact]
    public void A_chain_of_ten_thousand_nodes_is_worked_out()
    {
        const int count = 10_000;
        var model = new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel { RatedVolts = 24 },
            [.. Enumerable.Range(1, count).Select(i => new FittingModel($"n{i}", 0.001))],
            [.. Enumerable.Range(1, count).Select(i => Some.Run(i == 1 ? "driver" : $"n{i - 1}", $"n{i}", 0.03, 16))]);
        var readings = Some.Readings(model);
        Assert.Equal(count, readings.Nodes.Length);
        // Against the closed form of an evenly loaded line, to first order in its small drop.
        var ohms = readings.Nodes.Length * 0.03 * 2 * 1.21e-3 * 0.965 * (1 - (0.00393 * 5));
        var drop = ohms * count * 0.001 / 24 / 2;
        Assert.Equal(24 - drop, readings.Nodes[^1].VoltsDc.Best, 0.02 * drop);
        Assert.All(readings.Nodes, n => Assert.True(n.VoltsDc.StandardUncertainty > 0));
    }

    private static CircuitModel Model(params RunModel[] runs) => Some.SixNodeTree() with
    {
        Fittings = [new("a", 1), new("b", 1)],
        Runs = [.. runs],
    };

    private static void Refused(RefusalReason reason, string field, params RunModel[] runs)
    {
        var refusal = Assert.IsType<CannotExpect>(Expected.Of(Model(runs)));
        Assert.Equal(reason, refusal.Reason);
        Assert.Equal(field, refusal.Field);
    }
}
