using FleetLight.Demo.Physics;

namespace FleetLight.Demo.Tests.Physics;

/// <summary>Constant-voltage feeds against algebra.</summary>
public sealed class FeedTests
{
    [Fact]
    public void One_load_behind_a_resistance_follows_the_quadratic()
    {
        // V² − V0·V + P·R = 0 with 12 V, 0.5 Ω, 20 W.
        var (volts, amps) = FeedTree.Solve(12, [new FeedBranch(-1, 0.5, 20)]);
        Assert.Equal((12 + Math.Sqrt(144 - 40)) / 2, volts[0], 1e-7);
        Assert.Equal(20 / volts[0], amps, 1e-7);
    }

    [Fact]
    public void Power_in_is_the_loads_and_the_loss_of_the_cable()
    {
        FeedBranch[] branches = [new(-1, 0.2, 0), new(0, 0.1, 5), new(1, 0.1, 7), new(0, 0.3, 6), new(3, 0.15, 4)];
        var (volts, amps) = FeedTree.Solve(24, branches);
        var loss = branches.Select((branch, index) =>
        {
            var drop = (branch.From < 0 ? 24 : volts[branch.From]) - volts[index];
            return drop * drop / branch.Ohms;
        }).Sum();
        Assert.Equal(24 * amps, 22 + loss, 1e-6);
    }

    [Fact]
    public void A_load_beyond_what_the_cable_carries_is_named() =>
        // The most is V0² ÷ 4R = 72 W.
        Assert.Throws<InvalidOperationException>(() => FeedTree.Solve(12, [new FeedBranch(-1, 0.5, 73)]));
}
