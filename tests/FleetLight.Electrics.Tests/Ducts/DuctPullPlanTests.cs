using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Electrics.Tests.Ducts;

public class DuctPullPlanTests
{
    private const double PoundForce = 4.4482216152605;
    private const double Foot = 0.3048;
    private const double Pound = 0.45359237;

    /// <summary>
    /// Worked example of an American pulling guide: 1.5 lb/ft over 200 ft at 0.3 is 90 lbf, 144 lbf after 90°, 72
    /// lbf/ft on a radius of 2 ft.
    /// </summary>
    [Fact]
    public void Straight_then_bend_of_a_published_example()
    {
        var pull = DuctPull.Along([new(200 * Foot, 90, 2 * Foot)], 1.5 * Pound / Foot, 3, 0.3).Value!;
        Assert.Equal(144 * PoundForce, pull.ForceNewtons, 0.002 * 144 * PoundForce);
        Assert.Equal(72 * PoundForce / Foot, pull.SidewallNewtonsPerMetre, 0.002 * 72 * PoundForce / Foot);
    }

    /// <summary>The same guide: 0.5 lbf/ft over 300 ft at 0.25 is 37.5 lbf.</summary>
    [Fact]
    public void Straight_of_a_published_example() => Assert.Equal(
        37.5 * PoundForce, DuctPull.AfterStraight(0, 300 * Foot, 0.5 * Pound / Foot, 0.25), 0.1);

    /// <summary>
    /// 50 N/mm² (European construction standards) and 0.008 lbf per circular mil, which is 70.2 N/mm² (ICEA study): 3
    /// mm² may be pulled with 150 N or 211 N.
    /// </summary>
    [Fact]
    public void Two_rules_for_the_conductors()
    {
        var circularMil = Math.PI / 4 * 0.0254 * 0.0254 / 1e6;
        Assert.Equal(PullLimit.American, 0.008 * PoundForce / circularMil / 1e6, 0.05);
        Assert.Equal(150, PullLimit.Of(new PulledCable(0.1, 3)).Value!.Newtons);
        Assert.Equal(211, PullLimit.Of(new PulledCable(0.1, 3) { Rule = PullRule.SeventyNewtons }).Value!.Newtons, 0.5);
    }

    /// <summary>
    /// A basket: as an eye on an unarmoured cable, D²·9 N on steel wires, D²·3 N on steel tape (European construction
    /// standards); 1000 lbf at most (ICEA study).
    /// </summary>
    [Fact]
    public void Baskets()
    {
        var cable = new PulledCable(1, 10) { Grip = PullGrip.Basket, OutsideMillimetres = 20 };
        Assert.Equal(500, PullLimit.Of(cable).Value!.Newtons);
        Assert.Equal(3600, PullLimit.Of(cable with { Armour = PullArmour.SteelWire }).Value!.Newtons);
        Assert.Equal(1200, PullLimit.Of(cable with { Armour = PullArmour.SteelTape }).Value!.Newtons);
        var thick = cable with { CopperSquareMillimetres = 100, Rule = PullRule.SeventyNewtons };
        Assert.Equal(1000 * PoundForce, PullLimit.Of(thick).Value!.Newtons, 0.5);
        Assert.Equal(7020, PullLimit.Of(thick with { Grip = PullGrip.Eye }).Value!.Newtons, 1e-9);
    }

    /// <summary>
    /// 100 m straight, then 90°, then 10 m, at 0.5 kg/m and 0.4. Onward the bend multiplies the force of the long
    /// straight: (196.2·e^(0.4·π/2)) + 19.62 = 387.4 N. Back it multiplies that of the short one: 19.62·1.8745 + 196.2
    /// = 233.0 N.
    /// </summary>
    [Fact]
    public void A_bend_near_the_end_is_better_fed_in_first()
    {
        var plan = DuctPullPlan.Of([new(100, 90, 1), new(10)], new PulledCable(0.5, 3), 0.4).Value!;
        Assert.Equal(387.4, plan.FromRouteEnd.ForceNewtons, 0.1);
        Assert.Equal(233.0, plan.FromRouteBeginning.ForceNewtons, 0.1);
        Assert.Equal(PullFrom.RouteBeginning, plan.Better);
        Assert.False(plan.IsWithin);
        Assert.Contains("more than the 150 N", plan.Text, StringComparison.Ordinal);
        Assert.True(DuctPullPlan.Of([new(100, 90, 1), new(10)], new PulledCable(0.5, 5), 0.4).Value!.IsWithin);
    }

    [Fact]
    public void A_straight_takes_the_same_from_either_end()
    {
        var plan = DuctPullPlan.Of([new(40), new(20)], new PulledCable(0.2, 5)).Value!;
        Assert.Equal(PullFrom.Either, plan.Better);
        Assert.Equal(plan.FromRouteEnd.ForceNewtons, plan.FromRouteBeginning.ForceNewtons, 1e-9);
        Assert.True(plan.IsWithin);
    }

    /// <summary>
    /// 300 lbf per foot (ICEA study) is 4378 N/m; NFPA 70 lets bends make 360° between two pulling points.
    /// </summary>
    [Fact]
    public void Sidewall_force_and_too_many_bends_are_said()
    {
        Assert.Equal(DuctPullPlan.StrictSidewallNewtonsPerMetre, 300 * PoundForce / Foot, 0.5);
        var tight = DuctPullPlan.Of([new(100, 90, 0.05), new(100)], new PulledCable(1, 100), 0.4).Value!;
        Assert.False(tight.IsWithin);
        Assert.Contains("press the cable", tight.Text, StringComparison.Ordinal);
        var winding = DuctPullPlan.Of(
            [.. Enumerable.Repeat(new DuctStretch(1, 90, 1), 5)], new PulledCable(0.1, 100), 0.2).Value!;
        Assert.False(winding.IsWithin);
        Assert.Contains("450°", winding.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Nonsense_is_refused_by_name()
    {
        DuctStretch[] route = [new(10)];
        Assert.Equal("cable", DuctPullPlan.Of(route, null).Refusal!.Field);
        Assert.Equal("route", DuctPullPlan.Of([], new PulledCable(1, 1)).Refusal!.Field);
        Assert.Equal("cable.kilogramsPerMetre", DuctPullPlan.Of(route, new PulledCable(0, 1)).Refusal!.Field);
        Assert.Equal("cable.copperSquareMillimetres", DuctPullPlan.Of(route, new PulledCable(1, 0)).Refusal!.Field);
        Assert.Equal("friction", DuctPullPlan.Of(route, new PulledCable(1, 1), double.NaN).Refusal!.Field);
        Assert.Equal(
            "mostSidewallNewtonsPerMetre", DuctPullPlan.Of(route, new PulledCable(1, 1), 0.5, 0, 0).Refusal!.Field);
        var armoured = new PulledCable(1, 1) { Grip = PullGrip.Basket, Armour = PullArmour.SteelWire };
        Assert.Equal("cable.outsideMillimetres", DuctPullPlan.Of(route, armoured).Refusal!.Field);
    }

    /// <summary>
    /// Laws of the capstan relation: backward and forward again is the same, and more of anything is never less.
    /// </summary>
    [Property(MaxTest = 300)]
    public bool Laws(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        DuctStretch[] route = [.. Enumerable.Range(0, random.Next(1, 6)).Select(_ => random.Next(2) == 0
            ? new DuctStretch(50 * random.NextDouble())
            : new DuctStretch(50 * random.NextDouble(), 90 * random.NextDouble(), 0.2 + random.NextDouble()))];
        var cable = new PulledCable(0.1 + random.NextDouble(), 5);
        var plan = DuctPullPlan.Of(route, cable).Value!;
        var again = DuctPullPlan.Of(DuctPullPlan.Reversed(route), cable).Value!;
        var rougher = DuctPullPlan.Of(route, cable, DuctPull.DefaultFriction * 1.1).Value!;
        var straight = DuctPull.AfterStraight(0, route.Sum(s => s.LengthMetres), cable.KilogramsPerMetre, 0.5);
        return Close(plan.FromRouteEnd.ForceNewtons, again.FromRouteBeginning.ForceNewtons)
            && Close(plan.FromRouteBeginning.ForceNewtons, again.FromRouteEnd.ForceNewtons)
            && rougher.FromRouteEnd.ForceNewtons >= plan.FromRouteEnd.ForceNewtons
            && plan.FromRouteEnd.ForceNewtons >= straight * (1 - 1e-12)
            && plan.FromRouteBeginning.ForceNewtons >= straight * (1 - 1e-12);
    }

    private static bool Close(double a, double b) => Math.Abs(a - b) <= 1e-9 * Math.Max(1, Math.Abs(a));
}
