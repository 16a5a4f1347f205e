using System.Text.Json;
using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Uncertainties;

public class SimulatedTests
{
    [Fact]
    public void An_ordinary_circuit_validates_its_first_order()
    {
        foreach (var model in new[] { Some.Series(1.6, 1.6, 2.6), Some.SixNodeTree() })
        {
            var simulated = Simulated.Of(model);
            Assert.Null(simulated.Refusal);
            Assert.True(simulated.IsStable);
            Assert.True(simulated.FirstOrderIsEnough);
            Assert.Equal(0, simulated.ShareWithoutOperatingPoint);
            var expected = Some.Readings(model);
            foreach (var quantity in simulated.Quantities)
            {
                var estimate = Verdicts.EstimateFor(expected, quantity.Place, quantity.Quantity)!;
                Assert.Equal(estimate.Best, quantity.FirstOrder.Best, 1e-9);
                Assert.Equal(estimate.StandardUncertainty, quantity.FirstOrder.StandardUncertainty, 1e-9);
                Assert.Equal(estimate.StandardUncertainty, quantity.StandardUncertainty, 2 * quantity.Tolerance / 5);
                Assert.InRange(quantity.ShortestHigh95 - quantity.ShortestLow95, 0, quantity.High95 - quantity.Low95);
                Assert.Equal(
                    quantity.StandardUncertainty, quantity.SecondOrderStandardUncertainty!.Value, 2 * quantity.Tolerance / 5);
            }
        }
    }

    [Fact]
    public void The_same_seed_gives_the_same_answer_and_another_nearly()
    {
        var model = Some.SixNodeTree();
        var one = Simulated.Of(model, new SimulationOptions { Seed = 5 });
        Assert.Equal(JsonSerializer.Serialize(one), JsonSerializer.Serialize(Simulated.Of(model, new() { Seed = 5 })));
        var other = Simulated.Of(model, new SimulationOptions { Seed = -6 });
        Assert.NotEqual(one.Quantities[1].Mean, other.Quantities[1].Mean);
        for (var i = 0; i < one.Quantities.Length; i++)
            Assert.Equal(one.Quantities[i].High95, other.Quantities[i].High95, 2 * one.Quantities[i].Tolerance / 5);
    }

    /// <summary>
    /// A loop that needs as much as its driver can: half of those built are at the limit, the current bends there.
    /// </summary>
    [Fact]
    public void At_a_drivers_limit_the_first_order_is_not_enough()
    {
        var model = Some.Series([.. Enumerable.Repeat(1.6, 6)]);
        var need = Some.Readings(model).DriverVoltsDc;
        foreach (var (room, isEnough) in ((double, bool)[])[(0.0, false), (1.0, false), (8.0, true)])
        {
            var near = model with
            {
                Driver = model.Driver with { MostVolts = need.Best + (room * need.StandardUncertainty) },
            };
            var simulated = Simulated.Of(near);
            Assert.Equal(isEnough, simulated.FirstOrderIsEnough);
            var plan = CircuitPlan.TryLay(near, null, out _)!;
            var state = plan.Solve([], [])!;
            Assert.Equal(
                isEnough,
                FirstOrder.IsEnough(plan, state, CircuitModel.DriverNode, MeasuredQuantity.VoltsDc));
        }
    }

    /// <summary>
    /// One constant power behind a resistance: V² − V₀·V + P·R = 0 has no solution beyond V₀²/(4·R). Just below, some of
    /// those built collapse, and the voltage of the others bends.
    /// </summary>
    [Fact]
    public void Near_collapse_the_first_order_is_not_enough()
    {
        CircuitModel Load(double watts) => new(
            DriveKind.ConstantVoltage, new DriverModel { RatedVolts = 12, OutputTolerancePercent = 2 },
            [new FittingModel("f1", watts)], [Some.Run(CircuitModel.DriverNode, "f1", 30)]);
        var greatest = Assert.IsType<CannotExpect>(Expected.Of(Load(1000))).GreatestWatts!.Value;
        var near = Simulated.Of(Load(0.97 * greatest));
        Assert.InRange(near.ShareWithoutOperatingPoint, 0.05, 0.5);
        Assert.False(near.FirstOrderIsEnough);
        var far = Simulated.Of(Load(0.2 * greatest));
        Assert.Equal(0, far.ShareWithoutOperatingPoint);
        Assert.True(far.FirstOrderIsEnough);
        foreach (var (share, isEnough) in ((double, bool)[])[(0.97, false), (0.9, false), (0.2, true)])
        {
            var plan = CircuitPlan.TryLay(Load(share * greatest), null, out _)!;
            var state = plan.Solve([], [])!;
            Assert.Equal(isEnough, FirstOrder.IsEnough(plan, state, "f1", MeasuredQuantity.VoltsDc));
        }
    }

    /// <summary>Second-order terms against the simulation, on a load whose cable takes a fifth of the voltage.</summary>
    [Fact]
    public void Second_order_terms_are_what_the_simulation_finds()
    {
        var model = new CircuitModel(
            DriveKind.ConstantVoltage, new DriverModel { RatedVolts = 12 },
            [new FittingModel("f1", 30)], [Some.Run(CircuitModel.DriverNode, "f1", 50)]);
        var simulated = Simulated.Of(model, new SimulationOptions { SignificantDigits = 2, MostTrials = 1_000_000 });
        var volts = simulated.Quantities.Single(q => q.Place == "f1");
        Assert.Equal(volts.Mean - volts.FirstOrder.Best, volts.SecondOrderShift!.Value, 0.15 * Math.Abs(volts.SecondOrderShift.Value));
        Assert.True(volts.SecondOrderShift < 0);
        Assert.Equal(volts.StandardUncertainty, volts.SecondOrderStandardUncertainty!.Value, 0.02 * volts.StandardUncertainty);
    }

    [Fact]
    public void What_cannot_be_simulated_is_refused_by_name()
    {
        Assert.NotNull(Simulated.Of(Some.Series()).Refusal);
        Assert.Equal("options.mostTrials", Refusal(new SimulationOptions { MostTrials = int.MaxValue }));
        Assert.Equal("options.significantDigits", Refusal(new SimulationOptions { SignificantDigits = 3 }));
        var large = Some.Series([.. Enumerable.Repeat(1.0, Simulated.MostParts + 1)]);
        Assert.Equal("model", Simulated.Of(large).Refusal!.Field);
        Assert.False(Simulated.Of(large).IsStable);
    }

    [Fact]
    public void Large_circuits_are_simulated_with_fewer_trials_and_quantities()
    {
        var simulated = Simulated.Of(Some.Series([.. Enumerable.Repeat(1.0, 450)]));
        Assert.InRange(simulated.Trials, 20_000, 100_000);
        Assert.Equal(Simulated.MostQuantities, simulated.Quantities.Length);
        Assert.Null(simulated.Quantities[0].SecondOrderShift);
    }

    private static string Refusal(SimulationOptions options) => Simulated.Of(Some.Series(1.6), options).Refusal!.Field;
}
