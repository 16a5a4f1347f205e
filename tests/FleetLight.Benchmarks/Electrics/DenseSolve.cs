using FleetLight.Electrics;
using MathNet.Numerics.LinearAlgebra;

namespace FleetLight.Benchmarks.Electrics;

/// <summary>
/// The plain way to solve a constant-voltage network: a dense nodal matrix and Newton's method with a general library.
/// </summary>
internal static class DenseSolve
{
    private const double VoltsEnough = 1e-9;

    /// <summary>Voltage at every node but the driver, in the order in which the runs name them, V.</summary>
    public static Vector<double> Volts(CircuitModel model)
    {
        var volts = model.Driver.RatedVolts.GetValueOrDefault();
        var index = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var run in model.Runs)
        {
            if (run.From != CircuitModel.DriverNode) index.TryAdd(run.From, index.Count);
            if (run.To != CircuitModel.DriverNode) index.TryAdd(run.To, index.Count);
        }

        var conductance = Matrix<double>.Build.Dense(index.Count, index.Count);
        var source = Vector<double>.Build.Dense(index.Count);
        foreach (var run in model.Runs)
        {
            ConductorResistance.TryOhmsPerKilometreAt20(run.ConductorClass, run.AreaSquareMillimetres, out var ohms);
            var siemens = 1000 / (2 * ohms * run.LengthMetres);
            var from = index.GetValueOrDefault(run.From, -1);
            var to = index.GetValueOrDefault(run.To, -1);
            if (from >= 0) conductance[from, from] += siemens;
            if (to >= 0) conductance[to, to] += siemens;
            if (from >= 0 && to >= 0)
            {
                conductance[from, to] -= siemens;
                conductance[to, from] -= siemens;
            }
            else
            {
                source[Math.Max(from, to)] += siemens * volts;
            }
        }

        var watts = new double[index.Count];
        foreach (var fitting in model.Fittings) watts[index[fitting.Id]] += fitting.RatedWatts;
        return Newton(conductance, source, watts, volts);
    }

    private static Vector<double> Newton(
        Matrix<double> conductance, Vector<double> source, double[] watts, double start)
    {
        var v = Vector<double>.Build.Dense(watts.Length, start);
        var jacobian = conductance.Clone();
        for (var round = 0; round < 50; round++)
        {
            var residual = (conductance * v) - source;
            for (var i = 0; i < watts.Length; i++)
            {
                residual[i] += watts[i] / v[i];
                jacobian[i, i] = conductance[i, i] - (watts[i] / (v[i] * v[i]));
            }

            var step = jacobian.Solve(residual);
            v -= step;
            if (step.AbsoluteMaximum() < VoltsEnough) break;
        }

        return v;
    }
}
