using MathNet.Numerics.LinearAlgebra;

namespace FleetLight.Electrics.Tests.Networks;

/// <summary>
/// Random trees against a dense nodal solution by Newton's method with an independent linear algebra library.
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
            var reference = Solve(model);
            foreach (var node in readings.Nodes) Assert.Equal(reference[node.NodeId], node.VoltsDc.Best, 1e-9);
        }
    }

    /// <summary>
    /// First-order uncertainty of every node and of the driver's current, against the model differentiated
    /// numerically in every input.
    /// </summary>
    [Fact]
    public void Uncertainty_of_random_trees_agrees_with_numerical_differentiation()
    {
        var random = new Random(21);
        for (var i = 0; i < 40; i++)
        {
            var model = RandomTree(random, random.Next(1, 15));
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

    private static Dictionary<string, double> Solve(CircuitModel model)
    {
        var volts = model.Driver.RatedVolts!.Value;
        var names = model.Runs.SelectMany(r => new[] { r.From, r.To }).Where(n => n != "driver").Distinct().ToList();
        var conductance = Matrix<double>.Build.Dense(names.Count, names.Count);
        var source = Vector<double>.Build.Dense(names.Count);
        foreach (var run in model.Runs)
        {
            Assert.True(ConductorResistance.TryOhmsPerKilometreAt20(
                run.ConductorClass, run.AreaSquareMillimetres, out var r));
            var siemens = 1000 / (2 * r * run.LengthMetres);
            int a = names.IndexOf(run.From), b = names.IndexOf(run.To);
            if (a >= 0) conductance[a, a] += siemens;
            if (b >= 0) conductance[b, b] += siemens;
            if (a >= 0 && b >= 0) (conductance[a, b], conductance[b, a]) = (-siemens, -siemens);
            else source[Math.Max(a, b)] += siemens * volts;
        }

        var watts = Vector<double>.Build.Dense(names.Count);
        foreach (var fitting in model.Fittings) watts[names.IndexOf(fitting.Id)] = fitting.RatedWatts;
        var v = Vector<double>.Build.Dense(names.Count, volts);
        for (var i = 0; i < 40; i++)
        {
            var residual = (conductance * v) - source + watts.PointwiseDivide(v);
            var jacobian = conductance
                - Matrix<double>.Build.DenseOfDiagonalVector(watts.PointwiseDivide(v.PointwisePower(2)));
            v -= jacobian.Solve(residual);
        }

        return names.Select((n, i) => (n, v[i])).ToDictionary(p => p.n, p => p.Item2);
    }

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
