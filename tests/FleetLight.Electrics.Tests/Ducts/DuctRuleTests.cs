using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Electrics.Tests.Ducts;

public class DuctRuleTests
{
    /// <summary>NFPA 70 chapter 9 table 1: 53 % for one cable, 31 % for two, 40 % for more.</summary>
    [Theory]
    [InlineData(1, 53)]
    [InlineData(2, 31)]
    [InlineData(3, 40)]
    [InlineData(9, 40)]
    public void By_the_number_of_cables(int count, double percent)
    {
        var fill = DuctFill.ByRule(50, [.. Enumerable.Repeat(5.0, count)], DuctFillRule.ByNumberOfCables).Value!;
        Assert.Equal(percent, fill.PermittedPercent);
        Assert.Equal("NFPA 70 chapter 9 table 1", fill.Source);
    }

    /// <summary>The rules differ: two cables of 15 mm in 50 mm fill 18 %, two of 20 mm fill 32 %.</summary>
    [Fact]
    public void A_duct_may_be_full_by_one_rule_and_not_by_the_other()
    {
        Assert.True(DuctFill.ByRule(50, [20.0, 20.0], DuctFillRule.SpaceFactor).Value!.Fits);
        Assert.False(DuctFill.ByRule(50, [20.0, 20.0], DuctFillRule.ByNumberOfCables).Value!.Fits);
        Assert.Equal(DuctFill.Source, DuctFill.Of(50, [20.0]).Value!.Source);
        Assert.Equal("as stated", DuctFill.Of(50, [20.0], 30).Value!.Source);
    }

    [Fact]
    public void One_more_cable_by_name()
    {
        var room = DuctFill.OneMore(50, [20.0, 20.0], new DuctCable("garden 3", 17)).Value!;
        Assert.True(room.GoesIn);
        Assert.Equal(32, room.Before.FillPercent, 1e-9);
        Assert.Equal(32 + 11.56, room.After.FillPercent, 1e-9);
        Assert.StartsWith("Cable garden 3 goes in", room.Text, StringComparison.Ordinal);
        Assert.False(DuctFill.OneMore(50, [20.0, 20.0], new DuctCable("garden 3", 19)).Value!.GoesIn);
        // The jam ratio of NFPA 70 chapter 9 table 1: 50 / 17 = 2.94 lies between 2.8 and 3.2.
        var jams = DuctFill.OneMore(50, [17.0, 17.0], new DuctCable(null, 17), DuctFillRule.ByNumberOfCables).Value!;
        Assert.Equal(50 / 17.0, jams.After.JamRatio!.Value, 1e-12);
        Assert.Contains("may jam", jams.Text, StringComparison.Ordinal);
        Assert.Null(jams.Before.JamRatio);
    }

    [Fact]
    public void Nonsense_is_refused_by_name()
    {
        Assert.Equal("more.outsideMillimetres", DuctFill.OneMore(50, [], new DuctCable("a", 0)).Refusal!.Field);
        Assert.Equal("boreMillimetres", DuctFill.OneMore(0, [], new DuctCable("a", 5)).Refusal!.Field);
        Assert.Equal("cableMillimetres", DuctFill.OneMore(50, null, new DuctCable("a", 5)).Refusal!.Field);
        Assert.Equal(
            "cableMillimetres",
            DuctFill.OneMore(2000, [.. Enumerable.Repeat(1.0, 1000)], new DuctCable("a", 5)).Refusal!.Field);
    }

    /// <summary>The thickest further cable just goes in, and one that is 1 % thicker does not.</summary>
    [Property(MaxTest = 300)]
    public bool The_thickest_more_is_the_thickest(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var rule = random.Next(2) == 0 ? DuctFillRule.SpaceFactor : DuctFillRule.ByNumberOfCables;
        double[] cables = [.. Enumerable.Range(0, random.Next(5)).Select(_ => 4 + (10 * random.NextDouble()))];
        var thickest = DuctFill.ByRule(50, cables, rule).Value!.ThickestMoreMillimetres;
        if (thickest == 0) return !DuctFill.OneMore(50, cables, new DuctCable("x", 0.1), rule).Value!.GoesIn;
        return DuctFill.OneMore(50, cables, new DuctCable("x", 0.999 * thickest), rule).Value!.GoesIn
            && !DuctFill.OneMore(50, cables, new DuctCable("x", 1.01 * thickest), rule).Value!.GoesIn;
    }
}
