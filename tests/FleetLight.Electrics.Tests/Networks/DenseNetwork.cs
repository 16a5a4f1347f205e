using FleetLight.Contracts;
using MathNet.Numerics.LinearAlgebra;

namespace FleetLight.Electrics.Tests.Networks;

/// <summary>
/// A constant-voltage network as a dense matrix of conductances, solved by Newton's method with an independent linear
/// algebra library. Every conductor is at the IEC 60228 maximum and at 20 °C.
/// </summary>
internal sealed class DenseNetwork
{
    private readonly CircuitModel model;
    private readonly List<string> names;
    private readonly Matrix<double> conductance;
    private readonly Vector<double> source;

    public DenseNetwork(CircuitModel model)
    {
        this.model = model;
        names = [.. model.Runs.SelectMany(r => new[] { r.From, r.To })
            .Concat(model.Fittings.Where(f => f.Tail is not null).Select(f => TailEnd(f.Id)))
            .Where(n => n != CircuitModel.DriverNode).Distinct()];
        conductance = Matrix<double>.Build.Dense(names.Count, names.Count);
        source = Vector<double>.Build.Dense(names.Count);
        foreach (var run in model.Runs)
        {
            var ohms = (run.ConductorsInLoop * run.LengthMetres * PerMetre(run.ConductorClass, run.AreaSquareMillimetres))
                + run.JointOhms;
            Add(run.From, run.To, 1 / Math.Max(ohms, 1e-9));
        }

        foreach (var fitting in model.Fittings)
        {
            if (fitting.Tail is not { } tail) continue;
            var ohms = 2 * tail.LengthMetres * PerMetre(tail.ConductorClass, tail.AreaSquareMillimetres);
            Add(fitting.Id, TailEnd(fitting.Id), 1 / ohms);
        }
    }

    /// <summary>The name here of what stands behind a fitting's tail.</summary>
    public static string TailEnd(string fitting) => $"{fitting} behind its tail";

    /// <summary>Voltage at every node; behind the tail where a fitting has one.</summary>
    public Dictionary<string, double> Solve()
    {
        var volts = model.Driver.RatedVolts!.Value;
        var v = Vector<double>.Build.Dense(names.Count, volts);
        for (var i = 0; i < 60; i++)
        {
            var residual = (conductance * v) - source;
            var jacobian = conductance.Clone();
            foreach (var fitting in model.Fittings)
            {
                var at = names.IndexOf(fitting.Tail is null ? fitting.Id : TailEnd(fitting.Id));
                var (amps, slope) = fitting.Load switch
                {
                    LoadKind.ConstantCurrent => (fitting.RatedWatts / volts, 0),
                    LoadKind.Resistive => (fitting.RatedWatts * v[at] / (volts * volts), fitting.RatedWatts / (volts * volts)),
                    _ => (fitting.RatedWatts / v[at], -fitting.RatedWatts / (v[at] * v[at])),
                };
                residual[at] += amps;
                jacobian[at, at] += slope;
            }

            v -= jacobian.Solve(residual);
        }

        return names.Select((n, i) => (n, v[i])).ToDictionary(p => p.n, p => p.Item2);
    }

    private static double PerMetre(ConductorClass kind, double area)
    {
        Assert.True(ConductorResistance.TryOhmsPerKilometreAt20(kind, area, out var perKilometre));
        return perKilometre / 1000;
    }

    private void Add(string from, string to, double siemens)
    {
        if (from == to) return;
        int a = names.IndexOf(from), b = names.IndexOf(to);
        if (a >= 0) conductance[a, a] += siemens;
        if (b >= 0) conductance[b, b] += siemens;
        if (a >= 0 && b >= 0)
        {
            conductance[a, b] -= siemens;
            conductance[b, a] -= siemens;
        }
        else
        {
            source[Math.Max(a, b)] += siemens * model.Driver.RatedVolts!.Value;
        }
    }
}
