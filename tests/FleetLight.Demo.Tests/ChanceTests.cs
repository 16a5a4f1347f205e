namespace FleetLight.Demo.Tests;

public sealed class ChanceTests
{
    [Fact]
    public void A_stream_gives_the_same_draws_for_ever()
    {
        // Kept so that no change of the generator slips through: it would change every fleet.
        double[] known = [0.901764281, 0.666261975, 0.686172975];
        var chance = Chance.Of(1, "a stream");
        Assert.Equal(known, known.Select(_ => Math.Round(chance.Unit(), 9)));
    }

    [Fact]
    public void Streams_and_seeds_differ()
    {
        var draws = new[] { Chance.Of(1, "a"), Chance.Of(1, "b"), Chance.Of(2, "a"), Chance.Of(0, "a") }.Select(chance => chance.Unit());
        Assert.Equal(4, draws.Distinct().Count());
    }

    [Fact]
    public void A_spread_keeps_its_limit_and_its_deviation()
    {
        var chance = Chance.Of(1, "spread");
        var draws = Enumerable.Range(0, 20_000).Select(_ => chance.Spread(1, 3)).ToArray();
        Assert.All(draws, draw => Assert.InRange(draw, -3, 3));
        Assert.InRange(draws.Average(), -0.03, 0.03);
        // A normal cut at three deviations keeps 0.986 of its deviation.
        Assert.InRange(Math.Sqrt(draws.Average(draw => draw * draw)), 0.97, 1.0);
    }

    [Fact]
    public void Whole_numbers_reach_both_ends()
    {
        var chance = Chance.Of(1, "whole");
        Assert.Equal([2, 3, 4], Enumerable.Range(0, 200).Select(_ => chance.Whole(2, 4)).Distinct().Order());
    }

    [Fact]
    public void Shuffling_loses_nothing() =>
        Assert.Equal(Enumerable.Range(0, 50), Chance.Of(1, "shuffle").Shuffled(Enumerable.Range(0, 50)).Order());
}
