using FleetLight.Electrics.Tests.Circuits;

namespace FleetLight.Electrics.Tests.Networks;

/// <summary>
/// Random trees and rings against a dense nodal solution by Newton's method with an independent linear algebra library.
/// </summary>
public class DenseReferenceTests
{
    [Fact]
    public void Node_volts_of_300_random_trees_agree()
    {
        var random = new Random(20);
        for (var i = 0; i < 300; i++)
        {
            var model = RandomTree(random, random.Next(1, 40));
            var readings = Some.Readings(model, Some.Bare);
            var reference = new DenseNetwork(model).Solve();
            foreach (var node in readings.Nodes) Assert.Equal(reference[node.NodeId], node.VoltsDc.Best, 1e-9);
        }
    }

    /// <summary>Up to twelve rings, fittings of every kind, tails, joints.</summary>
    [Fact]
    public void Node_and_fitting_volts_of_300_random_networks_with_rings_agree()
    {
        var random = new Random(22);
        var steps = 0;
        for (var i = 0; i < 300; i++)
        {
            var model = Sane(AnyCircuit.Network(random, random.Next(13), most: 40));
            var readings = Some.Readings(model, Some.Bare);
            var reference = new DenseNetwork(model).Solve();
            foreach (var node in readings.Nodes) Assert.Equal(reference[node.NodeId], node.VoltsDc.Best, 1e-7);
            foreach (var (fitting, reads) in model.Fittings.Zip(readings.Fittings))
            {
                var place = fitting.Tail is null ? fitting.Id : DenseNetwork.TailEnd(fitting.Id);
                Assert.Equal(reference[place], reads.VoltsDc.Best, 1e-7);
            }

            steps = Math.Max(steps, readings.Iterations);
        }

        Assert.InRange(steps, 2, 8);
    }

    /// <summary>
    /// First-order uncertainty of every node and of the driver's current, against the model differentiated
    /// numerically in every input.
    /// </summary>
    [Fact]
    public void Uncertainty_of_random_networks_agrees_with_numerical_differentiation()
    {
        var random = new Random(21);
        for (var i = 0; i < 60; i++)
        {
            var model = i % 3 == 0
                ? Sane(AnyCircuit.Network(random, random.Next(4), most: 15, isMixed: false))
                : RandomTree(random, random.Next(1, 15));
            var readings = Some.Readings(model);
            var variances = Differentiate(model, readings);
            for (var n = 0; n < readings.Nodes.Length; n++)
                Assert.Equal(Math.Sqrt(variances[n]), readings.Nodes[n].VoltsDc.StandardUncertainty, 1e-5);
            Assert.Equal(Math.Sqrt(variances[^1]), readings.DriverMilliamps.StandardUncertainty, 1e-2);
        }
    }

    internal static CircuitModel RandomTree(Random random, int count)
    {
        var names = new List<string> { CircuitModel.DriverNode };
        var runs = new List<RunModel>();
        for (var i = 1; i <= count; i++)
        {
            var (from, to) = (names[random.Next(names.Count)], $"n{i}");
            // Runs may be recorded in either direction.
            runs.Add(random.Next(2) == 0
                ? Some.Run(from, to, 1 + (5 * random.NextDouble()), 4)
                : Some.Run(to, from, 1 + (5 * random.NextDouble()), 4));
            names.Add(to);
        }

        var fittings = names.Skip(1).Where((_, i) => i == 0 || random.Next(4) > 0);
        return Some.SixNodeTree() with
        {
            Driver = new DriverModel { RatedVolts = 24 },
            Fittings = [.. fittings.Select(n => new FittingModel(n, 0.5 + (3 * random.NextDouble())))],
            Runs = [.. runs],
        };
    }

    // Nothing goes dark, no limit binds, and every run has the tolerances that the differentiation below assumes.
    private static CircuitModel Sane(CircuitModel model) => model with
    {
        Driver = new DriverModel { RatedVolts = 24 },
        Fittings = [.. model.Fittings.Select(f => f with { LeastVolts = null, TolerancePercent = 10 })],
        Runs = [.. model.Runs.Select(r => r with
        {
            ConductorCelsius = null,
            // A dense matrix loses digits where there is next to no resistance.
            LengthMetres = Math.Max(0.1, r.LengthMetres),
        })],
    };

    // Variance of each node's voltage, and last of the driver's current.
    private static double[] Differentiate(CircuitModel model, ExpectedReadings readings)
    {
        var root3 = Math.Sqrt(3);
        var variances = new double[readings.Nodes.Length + 1];
        void Add(Func<double, (CircuitModel, Assumptions)> at, double uncertainty)
        {
            double h = 1e-4 * uncertainty;
            var up = Values(at(h));
            var down = Values(at(-h));
            for (var n = 0; n < variances.Length; n++)
                variances[n] += Math.Pow((up[n] - down[n]) / (2 * h) * uncertainty, 2);
        }

        var assumed = Assumptions.Default;
        Add(d => (model with { Driver = new DriverModel { RatedVolts = 24 * (1 + d) } }, assumed), 0.05 / root3);
        for (var i = 0; i < model.Fittings.Length; i++)
        {
            var f = model.Fittings[i];
            Add(d => (model with
            {
                Fittings = model.Fittings.SetItem(i, f with { RatedWatts = f.RatedWatts * (1 + d) }),
            }, assumed), 0.1 / root3);
        }

        for (var i = 0; i < model.Runs.Length; i++)
        {
            var r = model.Runs[i];
            Add(d => (model with
            {
                Runs = model.Runs.SetItem(i, r with { LengthMetres = r.LengthMetres * (1 + d) }),
            }, assumed), 0.05 / root3);
        }

        Add(d => (model, assumed with { Buried = new(15 + d, 0) }), 5);
        // Half the span below the maximum is the best estimate; the other half is its limit.
        Add(d => (model, assumed with { ConductorBelowMaximumPercent = 7 * (1 + d) }), 1 / root3);
        return variances;
    }

    private static double[] Values((CircuitModel Model, Assumptions Assumptions) at)
    {
        var readings = Some.Readings(at.Model, at.Assumptions);
        return [.. readings.Nodes.Select(n => n.VoltsDc.Best), readings.DriverMilliamps.Best];
    }
}
