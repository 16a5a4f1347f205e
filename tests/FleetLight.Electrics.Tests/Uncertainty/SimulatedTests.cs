using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Electrics.Tests.Circuits;

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
            Assert.Equal(isEnough, !HasNote(near));
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
            Assert.Equal(isEnough, !HasNote(Load(share * greatest)));
        }
    }

    /// <summary>A fitting that is about to drop out: some of those built are dark, the others light.</summary>
    [Theory]
    [InlineData(0.05, false)]
    [InlineData(0.3, false)]
    [InlineData(3, true)]
    public void Where_a_fitting_may_drop_out_the_first_order_is_not_enough(double room, bool isEnough)
    {
        var model = Some.SixNodeTree();
        var volts = Some.Readings(model).Fittings[2].VoltsDc;
        var least = volts.Best - (room * (volts.High95 - volts.Best));
        model = model with { Fittings = model.Fittings.SetItem(2, model.Fittings[2] with { LeastVolts = least }) };
        Assert.Equal(isEnough, Simulated.Of(model).FirstOrderIsEnough);
        Assert.Equal(isEnough, !HasNote(model));
    }

    /// <summary>
    /// The remark against the simulation: circuits near and far from their limits at random. Where there is no remark the
    /// simulated interval is the stated one, to a third of a standard uncertainty at either end.
    /// </summary>
    [Fact]
    public void Without_the_remark_the_simulation_agrees()
    {
        var random = new Random(8);
        int noted = 0, silent = 0;
        for (var i = 0; i < 120; i++)
        {
            var model = i % 2 == 0 ? AnyCircuit.Series(random) : AnyCircuit.Network(random, random.Next(3));
            if (Expected.Of(model) is not ExpectedReadings) continue;
            model = NearLimits(model, random);
            if (Expected.Of(model) is not ExpectedReadings reads) continue;
            if (HasNote(model))
            {
                noted++;
                continue;
            }

            silent++;
            var simulated = Simulated.Of(model, new SimulationOptions { MostTrials = 20_000 });
            foreach (var quantity in simulated.Quantities)
            {
                if (Verdicts.EstimateFor(reads, quantity.Place, quantity.Quantity) is not { } estimate) continue;
                var near = (0.33 * quantity.StandardUncertainty) + 1e-9;
                Assert.True(
                    Math.Abs(estimate.Low95 - quantity.Low95) <= near && Math.Abs(estimate.High95 - quantity.High95) <= near,
                    $"circuit {i}, {quantity.Quantity} at {quantity.Place}: {estimate.Low95} to {estimate.High95} beside "
                    + $"{quantity.Low95} to {quantity.High95}, {string.Join(", ", reads.Notes.Select(n => n.Code))}");
            }
        }

        Assert.True(noted >= 10 && silent >= 40, $"{noted} noted, {silent} not");
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

    // With one limit so near that it may matter, or somewhat farther.
    private static CircuitModel NearLimits(CircuitModel model, Random random)
    {
        var reads = Some.Readings(model);
        double Away(Estimate estimate, double side) =>
            Math.Max(0.01, estimate.Best + (side * 8 * random.NextDouble() * estimate.StandardUncertainty));
        if (random.Next(3) == 0)
            return model with { Driver = model.Driver with { MostWatts = Away(reads.DriverWatts, 1) } };
        if (model.Drive == DriveKind.ConstantCurrent)
            return model with { Driver = model.Driver with { MostVolts = Away(reads.DriverVoltsDc, 1) } };
        var at = random.Next(model.Fittings.Length);
        var least = Away(reads.Fittings[at].VoltsDc, -1);
        return model with { Fittings = model.Fittings.SetItem(at, model.Fittings[at] with { LeastVolts = least }) };
    }

    private static bool HasNote(CircuitModel model) =>
        Some.Readings(model).Notes.Any(note => note.Code == NoteCode.FirstOrderNotEnough);

    private static string Refusal(SimulationOptions options) => Simulated.Of(Some.Series(1.6), options).Refusal!.Field;
}
