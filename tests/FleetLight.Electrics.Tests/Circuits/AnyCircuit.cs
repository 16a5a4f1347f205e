using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Circuits;

/// <summary>Draws sane circuits of both drives and changes to them.</summary>
internal static class AnyCircuit
{
    private static readonly double[] Watts = [1.0, 1.6, 2.0, 2.6, 3.2, 4.2];
    private static readonly double[] Areas = [0.75, 1, 1.5, 2.5, 4];

    public static CircuitModel Series(Random random)
    {
        var count = random.Next(1, 9);
        var names = new List<string> { CircuitModel.DriverNode };
        var runs = new List<RunModel>();
        var fittings = new List<FittingModel>();
        for (var i = 1; i <= count; i++)
        {
            var at = names[random.Next(names.Count)];
            if (random.Next(3) == 0)
            {
                runs.Add(Run(random, $"b{i}", at, $"box{i}"));
                names.Add(at = $"box{i}");
            }

            runs.Add(Run(random, $"r{i}", at, $"f{i}"));
            names.Add($"f{i}");
            fittings.Add(new FittingModel($"f{i}", Pick(random, Watts))
            {
                TolerancePercent = Pick(random, [2.5, 5, 10]),
                HasBypassDiode = random.Next(4) == 0,
                StatedMilliamps = random.Next(4) == 0 ? Pick(random, [350, 500, 700]) : null,
                Tail = random.Next(4) == 0 ? new TailModel(3, 0.75, ConductorClass.Class5) : null,
            });
        }

        var rated = Pick(random, [350, 500, 700]);
        if (random.Next(6) == 0) runs.RemoveAt(random.Next(runs.Count));
        return new CircuitModel(
            DriveKind.ConstantCurrent,
            new DriverModel
            {
                RatedMilliamps = rated,
                MostVolts = random.Next(3) == 0 ? 4.2 * count / rated * 1000 * (0.3 + random.NextDouble()) : null,
                MostWatts = random.Next(3) == 0 ? 4.2 * count * (0.3 + random.NextDouble()) : null,
                OpenCircuitVolts = random.Next(2) == 0 ? 60 : null,
            },
            [.. fittings],
            [.. runs]);
    }

    public static CircuitModel Network(Random random, int rings, int most = 9, bool isMixed = true)
    {
        var count = random.Next(1, most);
        var names = new List<string> { CircuitModel.DriverNode };
        var runs = new List<RunModel>();
        var fittings = new List<FittingModel>();
        for (var i = 1; i <= count; i++)
        {
            var name = i == 1 || random.Next(4) > 0 ? $"f{i}" : $"box{i}";
            runs.Add(Run(random, $"r{i}", names[random.Next(names.Count)], name) with
            {
                LengthMetres = random.Next(12) == 0 ? 0 : 1 + (8 * random.NextDouble()),
                AreaSquareMillimetres = 2.5,
            });
            names.Add(name);
            if (name[0] != 'f') continue;
            fittings.Add(new FittingModel(name, Pick(random, Watts))
            {
                TolerancePercent = Pick(random, [2.5, 5, 10]),
                Load = isMixed ? Pick(random, Enum.GetValues<LoadKind>()) : LoadKind.ConstantPower,
                LeastVolts = isMixed && random.Next(4) == 0 ? 20 : null,
                Tail = isMixed && random.Next(4) == 0 ? new TailModel(3, 0.75, ConductorClass.Class5) : null,
            });
        }

        for (var i = 0; i < rings; i++)
        {
            runs.Add(Run(random, $"ring{i}", names[random.Next(names.Count)], names[random.Next(names.Count)]) with
            {
                LengthMetres = 1 + (8 * random.NextDouble()),
                AreaSquareMillimetres = 2.5,
            });
        }

        return new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel
            {
                RatedVolts = 24,
                MostAmps = isMixed && random.Next(3) == 0 ? 5 * random.NextDouble() : null,
                MostWatts = isMixed && random.Next(3) == 0 ? 100 * random.NextDouble() : null,
            },
            [.. fittings],
            [.. runs]);
    }

    public static ImmutableArray<CircuitChange> Changes(CircuitModel model, Random random) =>
        [.. Enumerable.Range(0, random.Next(0, 3)).Select(_ => Change(model, random))];

    public static CircuitChange Change(CircuitModel model, Random random)
    {
        var fitting = random.Next(model.Fittings.Length);
        var run = random.Next(-1, model.Runs.Length);
        var ends = model.Runs.SelectMany(r => new[] { r.From, r.To })
            .Concat(model.Fittings.Select(f => f.Id)).Distinct().ToArray();
        var node = ends[random.Next(ends.Length)];
        if (model.Drive == DriveKind.ConstantCurrent && random.Next(2) == 0) node = model.Fittings[fitting].Id;
        return random.Next(14) switch
        {
            0 => new FittingHasWatts(fitting, Pick(random, Watts)),
            1 => new FittingBypassed(fitting, random.Next(2) == 0 ? 0 : 0.8),
            2 => new FittingOpen(fitting),
            3 => new FittingAdded(random.Next(2) == 0 ? null : model.Fittings[fitting].Id, Pick(random, Watts)),
            4 => new FittingForOtherDrive(fitting, Pick(random, [3, 9, 12, 24])),
            5 => new RunOpen(run),
            6 => new RunJointOhms(run, 10 * random.NextDouble()),
            7 => new RunLengthFactor(run, 3 * (0.1 + random.NextDouble())),
            8 => new RunHasArea(run, Pick(random, Areas)),
            9 => new CoresBridged(node, random.Next(3) == 0 ? 0 : Math.Pow(10, 1 + (3 * random.NextDouble()))),
            10 => new CoresBridged(node, Math.Pow(10, 4 * random.NextDouble())),
            11 => new DriverGives(model.Drive == DriveKind.ConstantCurrent ? Pick(random, [350, 500, 700]) : 12),
            12 => new SupplyReversed(),
            _ => new DriverDead(),
        };
    }

    public static T Pick<T>(Random random, T[] from) => from[random.Next(from.Length)];

    private static RunModel Run(Random random, string id, string from, string to)
    {
        var (one, other) = random.Next(2) == 0 ? (from, to) : (to, from);
        return new(id, one, other, 1 + (60 * random.NextDouble()), Pick(random, Areas), ConductorClass.Class5)
        {
            ConductorCelsius = random.Next(4) == 0 ? 30 : null,
            ConductorsInLoop = random.Next(12) == 0 ? 1 : 2,
            JointOhms = random.Next(4) == 0 ? 0.05 : 0,
        };
    }
}
