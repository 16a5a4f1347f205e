using FleetLight.Contracts;
using FleetLight.Electrics.Tests.Circuits;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Electrics.Tests.Networks;

/// <summary>Laws that hold for every network, with rings and with fittings of every kind.</summary>
public class NetworkLawTests
{
    [Property(MaxTest = 500)]
    public void More_load_never_raises_any_volts(PositiveInt seed)
    {
        var random = new System.Random(seed.Get);
        var model = Network(random);
        var at = random.Next(model.Fittings.Length);
        var fitting = model.Fittings[at];
        NoVoltsRise(model, model with
        {
            Fittings = model.Fittings.SetItem(at, fitting with { RatedWatts = fitting.RatedWatts + random.NextDouble() }),
        });
    }

    /// <summary>
    /// In a tree whose loads do not fall with the voltage. A resistive load beyond would draw less and let the volts in
    /// front of the run rise, and in a ring the current would take the other way.
    /// </summary>
    [Property(MaxTest = 500)]
    public void A_longer_run_never_raises_any_volts_of_a_tree(PositiveInt seed)
    {
        var random = new System.Random(seed.Get);
        var model = AnyCircuit.Network(random, rings: 0, most: 25);
        model = model with
        {
            Fittings = [.. model.Fittings.Select(f => f with
            {
                LeastVolts = null,
                Load = f.Load == LoadKind.Resistive ? LoadKind.ConstantPower : f.Load,
            })],
        };
        NoVoltsRise(model, Longer(model, random));
    }

    /// <summary>Rayleigh's monotonicity law: more resistance anywhere never lets more current through.</summary>
    [Property(MaxTest = 500)]
    public void A_longer_run_never_raises_the_current_and_one_more_never_lowers_it_where_all_is_resistive(
        PositiveInt seed)
    {
        var random = new System.Random(seed.Get);
        var model = Network(random);
        model = model with { Fittings = [.. model.Fittings.Select(f => f with { Load = LoadKind.Resistive })] };
        var nodes = model.Runs.SelectMany(r => new[] { r.From, r.To }).Distinct().ToArray();
        var extra = Some.Run(nodes[random.Next(nodes.Length)], nodes[random.Next(nodes.Length)], 4) with { Id = "extra" };
        var amps = Solve(model).DriverAmps;
        Assert.True(Solve(Longer(model, random)).DriverAmps <= amps + 1e-12);
        Assert.True(Solve(model with { Runs = model.Runs.Add(extra) }).DriverAmps >= amps - 1e-12);
    }

    [Property(MaxTest = 300)]
    public void Volts_and_watts_scale_together(PositiveInt seed)
    {
        var random = new System.Random(seed.Get);
        var model = Network(random);
        var factor = 1 + random.NextDouble();
        Proportional(model, factor, model with
        {
            Driver = model.Driver with { RatedVolts = model.Driver.RatedVolts * factor },
            Fittings = [.. model.Fittings.Select(f => f with { RatedWatts = f.RatedWatts * factor * factor })],
        });
    }

    [Property(MaxTest = 300)]
    public void Ohms_and_watts_scale_against_each_other(PositiveInt seed)
    {
        var random = new System.Random(seed.Get);
        var model = Network(random);
        var factor = 1 + random.NextDouble();
        Proportional(model, 1, model with
        {
            Fittings = [.. model.Fittings.Select(f => f with
            {
                RatedWatts = f.RatedWatts / factor,
                Tail = f.Tail is { } tail ? tail with { LengthMetres = tail.LengthMetres * factor } : null,
            })],
            Runs = [.. model.Runs.Select(r => r with
            {
                LengthMetres = r.LengthMetres * factor,
                JointOhms = r.JointOhms * factor,
            })],
        });
    }

    [Property(MaxTest = 300)]
    public void The_order_of_runs_and_fittings_and_the_sense_of_runs_do_not_matter(PositiveInt seed)
    {
        var random = new System.Random(seed.Get);
        var model = Network(random);
        var runs = model.Runs.Select(r => random.Next(2) == 0 ? r : r with { From = r.To, To = r.From }).ToArray();
        var fittings = model.Fittings.ToArray();
        random.Shuffle(runs);
        random.Shuffle(fittings);
        Proportional(model, 1, model with { Runs = [.. runs], Fittings = [.. fittings] });
    }

    [Property(MaxTest = 300)]
    public void Power_in_is_power_out_and_what_the_resistances_take(PositiveInt seed)
    {
        var model = Network(new System.Random(seed.Get));
        var point = ((NetworkPlan)CircuitPlan.TryLay(model, Some.Bare, out _)!).WithoutLimits(out _)!;
        double taken = 0;
        for (var i = 0; i < model.Fittings.Length; i++) taken += point.LitShare(i) * model.Fittings[i].RatedWatts;
        for (var b = 0; b < point.Built.BranchOhms.Length; b++)
        {
            var ohms = point.Built.BranchOhms[b];
            if (ohms > 1e-9) taken += ohms * point.Solver.BranchAmps(b) * point.Solver.BranchAmps(b);
        }

        Assert.Equal(24 * point.DriverAmps, taken, 1e-8);
    }

    /// <summary>Above the solution every start leads to it, in a few steps.</summary>
    [Property(MaxTest = 300)]
    public void Any_start_above_the_solution_leads_to_it_in_a_few_steps(PositiveInt seed)
    {
        var random = new System.Random(seed.Get);
        var model = Network(random);
        var point = ((NetworkPlan)CircuitPlan.TryLay(model, Some.Bare, out _)!).WithoutLimits(out _)!;
        Assert.InRange(point.Iterations, 1, 10);
        var other = new NetworkSolver(point.Built);
        for (var n = 0; n < other.Volts.Length; n++) other.Volts[n] = 24 * (1 + (2 * random.NextDouble()));
        Assert.True(other.TryContinue(24));
        Assert.InRange(other.Iterations, 1, 12);
        for (var n = 0; n < other.Volts.Length; n++) Assert.Equal(point.Solver.Volts[n], other.Volts[n], 1e-10);
    }

    // Nothing goes dark: that would be a jump.
    private static CircuitModel Network(System.Random random)
    {
        var model = AnyCircuit.Network(random, random.Next(6), most: 25);
        return model with { Fittings = [.. model.Fittings.Select(f => f with { LeastVolts = null })] };
    }

    private static CircuitModel Longer(CircuitModel model, System.Random random)
    {
        var at = random.Next(model.Runs.Length);
        var run = model.Runs[at];
        return model with
        {
            Runs = model.Runs.SetItem(at, run with { LengthMetres = run.LengthMetres + (5 * random.NextDouble()) }),
        };
    }

    private static void NoVoltsRise(CircuitModel before, CircuitModel after)
    {
        var (high, low) = (Solve(before), Solve(after));
        foreach (var place in high.Places)
            Assert.True(Volts(low, place) <= Volts(high, place) + 1e-11, $"{place}: {Volts(high, place)}, {Volts(low, place)}");
    }

    private static void Proportional(CircuitModel one, double factor, CircuitModel other)
    {
        var (a, b) = (Solve(one), Solve(other));
        foreach (var place in a.Places) Assert.Equal(factor * Volts(a, place), Volts(b, place), 1e-9);
    }

    private static NetworkPoint Solve(CircuitModel model)
    {
        var plan = Assert.IsType<NetworkPlan>(CircuitPlan.TryLay(model, null, out _));
        return plan.WithoutLimits(out _)!;
    }

    private static double Volts(NetworkPoint state, string place) =>
        state.Predict(place, MeasuredQuantity.VoltsDc, new double[state.Inputs]);
}
