namespace FleetLight.Electrics.Tests.Ducts;

public class DuctTests
{
    /// <summary>IET On-Site Guide: at most 45 % of the cross-section.</summary>
    [Theory]
    [InlineData(50, new[] { 9.0, 9.0 }, 6.48, true)]
    [InlineData(20, new[] { 10.0 }, 25, true)]
    [InlineData(20, new[] { 10.0, 10.0 }, 50, false)]
    [InlineData(50, new double[0], 0, true)]
    public void Fill_is_by_cross_section(double bore, double[] cables, double percent, bool fits)
    {
        var fill = DuctFill.Of(bore, cables).Value!;
        Assert.Equal(percent, fill.FillPercent, 1e-9);
        Assert.Equal(fits, fill.Fits);
    }

    [Fact]
    public void The_thickest_further_cable_fills_the_duct_to_the_guidance()
    {
        var fill = DuctFill.Of(50, [9.0, 9.0]).Value!;
        var more = DuctFill.Of(50, [9.0, 9.0, fill.ThickestMoreMillimetres]).Value!;
        Assert.Equal(45, more.FillPercent, 1e-9);
        Assert.Equal(0, DuctFill.Of(20, [10.0, 10.0]).Value!.ThickestMoreMillimetres);
    }

    /// <summary>NFPA 70 chapter 9 table 1, informational note: three cables may jam at a ratio of 2.8 to 3.2.</summary>
    [Theory]
    [InlineData(27, 10, 3, false)]
    [InlineData(28, 10, 3, true)]
    [InlineData(32, 10, 3, true)]
    [InlineData(33, 10, 3, false)]
    [InlineData(30, 10, 2, false)]
    public void Three_alike_may_jam(double bore, double diameter, int count, bool jams) =>
        Assert.Equal(jams, DuctFill.Of(bore, [.. Enumerable.Repeat(diameter, count)]).Value!.MayJam);

    /// <summary>
    /// e^(friction × angle) as printed in a cable maker's guide; 90° at 0.40 is printed 1.88, computed 1.874.
    /// </summary>
    [Theory]
    [InlineData(0.25, 30, 1.14)]
    [InlineData(0.25, 45, 1.22)]
    [InlineData(0.25, 60, 1.30)]
    [InlineData(0.25, 90, 1.48)]
    [InlineData(0.30, 30, 1.17)]
    [InlineData(0.30, 45, 1.27)]
    [InlineData(0.30, 60, 1.37)]
    [InlineData(0.30, 90, 1.60)]
    [InlineData(0.40, 30, 1.23)]
    [InlineData(0.40, 45, 1.37)]
    [InlineData(0.40, 60, 1.52)]
    [InlineData(0.40, 90, 1.88)]
    public void Bend_multiplies_by_the_capstan_relation(double friction, double degrees, double factor) =>
        Assert.Equal(factor, DuctPull.AfterBend(1, degrees, friction), 0.008);

    /// <summary>
    /// Published worked examples: 2.5 kg/m over 500 m at 0.4 is 4905 N; 90 lb round 90° at 0.3 is 144 lb.
    /// </summary>
    [Fact]
    public void Worked_examples_of_pulling_force()
    {
        Assert.Equal(4905, DuctPull.AfterStraight(0, 500, 2.5, 0.4), 1e-9);
        Assert.Equal(144, DuctPull.AfterBend(90, 90, 0.3), 0.2);
    }

    [Fact]
    public void A_route_adds_straights_and_multiplies_bends()
    {
        var pull = DuctPull.Along([new(500, 90, 2), new(10)], 2.5, 3, 0.4).Value!;
        var bend = 4905 * Math.Exp(0.4 * Math.PI / 2);
        Assert.Equal(bend + (9.81 * 10 * 2.5 * 0.4), pull.ForceNewtons, 1e-9);
        Assert.Equal(bend / 2, pull.SidewallNewtonsPerMetre, 1e-9);
        Assert.Equal(90, pull.BendsDegrees);
    }

    /// <summary>50 N/mm² of copper: a two-core 1.5 mm² cable may be pulled with 150 N.</summary>
    [Fact]
    public void Permitted_force_is_by_copper_area() =>
        Assert.Equal(150, DuctPull.Along([new(1)], 0.1, 3).Value!.PermittedNewtons);

    [Fact]
    public void Nonsense_is_refused_by_name()
    {
        Assert.Equal("boreMillimetres", DuctFill.Of(double.NaN, []).Refusal!.Field);
        Assert.Equal("cableMillimetres[1]", DuctFill.Of(50, [5, -1]).Refusal!.Field);
        Assert.Equal("cableMillimetres", DuctFill.Of(50, null).Refusal!.Field);
        Assert.Equal("permittedPercent", DuctFill.Of(50, [], 0).Refusal!.Field);
        Assert.Equal("route", DuctPull.Along(null, 1, 1).Refusal!.Field);
        Assert.Equal("route", DuctPull.Along([], 1, 1).Refusal!.Field);
        Assert.Equal("route[0]", DuctPull.Along([new(1, 90, 0)], 1, 1).Refusal!.Field);
        Assert.Equal("friction", DuctPull.Along([new(1)], 1, 1, double.PositiveInfinity).Refusal!.Field);
        Assert.Equal("kilogramsPerMetre", DuctPull.Along([new(1)], 0, 1).Refusal!.Field);
        Assert.Equal("copperSquareMillimetres", DuctPull.Along([new(1)], 1, -1).Refusal!.Field);
        Assert.Equal("startNewtons", DuctPull.Along([new(1)], 1, 1, 0.5, -1).Refusal!.Field);
        var endless = Enumerable.Repeat(new DuctStretch(10_000, 360, 1), 1000).ToArray();
        Assert.Equal("route", DuctPull.Along(endless, 100, 1, 2).Refusal!.Field);
    }
}
