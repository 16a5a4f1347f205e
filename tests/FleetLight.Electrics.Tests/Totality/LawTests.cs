using FleetLight.Electrics.Tests.Networks;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Electrics.Tests.Totality;

/// <summary>Laws that hold for every circuit, whatever its figures.</summary>
public class LawTests
{
    [Property(MaxTest = 500)]
    public bool A_longer_cable_never_lowers_the_volts_of_a_series_driver(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var model = Series(random);
        var at = random.Next(model.Runs.Length);
        var run = model.Runs[at];
        var longer = model with
        {
            Runs = model.Runs.SetItem(at, run with { LengthMetres = run.LengthMetres + (50 * random.NextDouble()) }),
        };
        return Some.Readings(longer).DriverVoltsDc.Best >= Some.Readings(model).DriverVoltsDc.Best;
    }

    [Property(MaxTest = 500)]
    public bool More_load_never_raises_any_volts_of_a_tree(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var model = DenseReferenceTests.RandomTree(random, random.Next(1, 20));
        var at = random.Next(model.Fittings.Length);
        var more = model with
        {
            Fittings = model.Fittings.SetItem(
                at, model.Fittings[at] with { RatedWatts = model.Fittings[at].RatedWatts + random.NextDouble() }),
        };
        var before = Some.Readings(model).Nodes;
        var after = Some.Readings(more).Nodes;
        return before.Zip(after).All(p => p.Second.VoltsDc.Best <= p.First.VoltsDc.Best + 1e-12);
    }

    [Property(MaxTest = 300)]
    public bool The_order_of_runs_and_fittings_does_not_matter(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var tree = DenseReferenceTests.RandomTree(random, random.Next(1, 20));
        var series = Series(random);
        return Same(tree, Shuffle(tree, random)) && Same(series, Shuffle(series, random));
    }

    /// <summary>A multiple of the voltage and its square of the power leave every drop in proportion.</summary>
    [Property(MaxTest = 300)]
    public bool A_tree_scales_with_its_voltage(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var model = DenseReferenceTests.RandomTree(random, random.Next(1, 20));
        var factor = 1 + random.NextDouble();
        var scaled = model with
        {
            Driver = model.Driver with { RatedVolts = model.Driver.RatedVolts * factor },
            Fittings = [.. model.Fittings.Select(f => f with { RatedWatts = f.RatedWatts * factor * factor })],
        };
        return Some.Readings(model).Nodes.Zip(Some.Readings(scaled).Nodes)
            .All(p => Close(p.First.VoltsDc.Best * factor, p.Second.VoltsDc.Best)
                && Close(p.First.VoltsDc.StandardUncertainty * factor, p.Second.VoltsDc.StandardUncertainty));
    }

    [Property(MaxTest = 300)]
    public bool A_series_loop_is_the_sum_of_its_parts(PositiveInt seed)
    {
        var model = Series(new Random(seed.Get));
        var readings = Some.Readings(model);
        var amps = readings.DriverMilliamps.Best / 1000;
        return Close(
                readings.DriverVoltsDc.Best,
                readings.Fittings.Sum(f => f.VoltsDc.Best) + (amps * readings.CableLoopOhms!.Best))
            && Close(readings.DriverWatts.Best, readings.DriverVoltsDc.Best * amps);
    }

    [Property(MaxTest = 300)]
    public bool The_lines_of_a_budget_sum_to_its_uncertainty(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var series = Some.Readings(Series(random));
        var tree = Some.Readings(DenseReferenceTests.RandomTree(random, random.Next(1, 10)));
        return Adds(series.DriverVoltsDc) && Adds(series.DriverWatts) && Adds(series.CableLoopOhms!)
            && Adds(tree.DriverMilliamps) && Adds(tree.DriverWatts) && tree.Nodes.All(n => Adds(n.VoltsDc));
    }

    [Property(MaxTest = 200)]
    public bool Power_in_is_power_out_and_lost(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var model = DenseReferenceTests.RandomTree(random, random.Next(1, 20));
        var readings = Some.Readings(model, Some.Bare);
        return readings.DriverWatts.Best >= model.Fittings.Sum(f => f.RatedWatts) - 1e-9;
    }

    private static bool Adds(Estimate estimate) =>
        Close(
            estimate.Budget.Sum(b => b.StandardUncertainty * b.StandardUncertainty),
            estimate.StandardUncertainty * estimate.StandardUncertainty)
        && Close(estimate.Budget.Sum(b => b.SharePercent), 100)
        && estimate.Budget.Select(b => b.SharePercent).SequenceEqual(
            estimate.Budget.Select(b => b.SharePercent).OrderDescending());

    private static CircuitModel Series(Random random)
    {
        var model = Some.Series(
            [.. Enumerable.Range(0, random.Next(1, 20)).Select(_ => 0.5 + (5 * random.NextDouble()))]);
        return model with
        {
            Runs = [.. model.Fittings.Select((f, i) =>
                Some.Run(i == 0 ? "driver" : $"f{i}", f.Id, 60 * random.NextDouble(), 1.5))],
        };
    }

    private static CircuitModel Shuffle(CircuitModel model, Random random)
    {
        var runs = model.Runs.ToArray();
        var fittings = model.Fittings.ToArray();
        random.Shuffle(runs);
        random.Shuffle(fittings);
        return model with { Runs = [.. runs], Fittings = [.. fittings] };
    }

    private static bool Same(CircuitModel one, CircuitModel other)
    {
        var (a, b) = (Some.Readings(one), Some.Readings(other));
        return Same(a.DriverVoltsDc, b.DriverVoltsDc)
            && Same(a.DriverMilliamps, b.DriverMilliamps)
            && Same(a.DriverWatts, b.DriverWatts)
            && a.Nodes.All(n => Same(n.VoltsDc, b.Nodes.Single(m => m.NodeId == n.NodeId).VoltsDc))
            && a.Fittings.All(f => Same(f.VoltsDc, b.Fittings.Single(g => g.FittingId == f.FittingId).VoltsDc));
    }

    private static bool Same(Estimate a, Estimate b) =>
        Close(a.Best, b.Best) && Close(a.StandardUncertainty, b.StandardUncertainty) && Close(a.High95, b.High95);

    private static bool Close(double a, double b) => Math.Abs(a - b) <= 1e-9 * Math.Max(1, Math.Abs(a));
}
