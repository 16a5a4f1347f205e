using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.HeadroomAndChange;

/// <summary>Questions for the tests.</summary>
internal static class Asked
{
    /// <summary>Bare arithmetic: no tolerance of the driver, the fittings or the lengths either.</summary>
    public static CircuitModel Exact(CircuitModel model) => model with
    {
        Driver = model.Driver with { OutputTolerancePercent = 0 },
        Fittings = [.. model.Fittings.Select(f => f with { TolerancePercent = 0 })],
        Runs = [.. model.Runs.Select(r => r with { LengthTolerancePercent = 0 })],
    };

    public static ImmutableArray<FittingModel> Fittings(int count, double watts, double tolerance = 10) =>
    [
        .. Enumerable.Range(1, count)
            .Select(i => new FittingModel($"new{i}", watts) { TolerancePercent = tolerance }),
    ];

    public static NewRun Run(
        double metres, double area, ConductorClass kind = ConductorClass.Class5, double tolerance = 0) =>
        new(metres, area, kind) { LengthTolerancePercent = tolerance };

    public static HeadroomAnswer Answer(
        HeadroomQuestion question, HeadroomOptions? options = null, Assumptions? assumptions = null)
    {
        var result = Headroom.Of(question, options, assumptions);
        Assert.Null(result.Refusal);
        return result.Answer!;
    }

    public static double Longest(HeadroomAnswer answer, double area) =>
        answer.LongestRuns.Single(l => l.AreaSquareMillimetres == area).LengthMetres!.Value;

    /// <summary>A circuit with tolerances, its driver's limits a little above or below what it needs.</summary>
    public static (HeadroomQuestion Question, HeadroomOptions Options) Random(Random random)
    {
        var constantCurrent = random.Next(2) == 0;
        var circuit = constantCurrent ? Series(random) : Tree(random);
        var nodes = circuit.Runs.Select(r => r.To).Append("driver").ToArray();
        var where = random.Next(4) == 0
            ? new AddedWhere("driver") { SpareRunIds = [circuit.Runs[0].Id] }
            : new AddedWhere(nodes[random.Next(nodes.Length)]);
        if (random.Next(3) > 0)
        {
            where = where with
            {
                Run = Run(100 * random.NextDouble(), AreaOf(random), ConductorClass.Class5, 5)
                    with
                { SpacingMetres = random.Next(2) * 5 },
            };
        }

        var added = Fittings(random.Next(1, 5), 1 + (3 * random.NextDouble()));
        if (!constantCurrent) added = [.. added.Select(f => AnyLoad(f, random))];
        var question = new HeadroomQuestion(circuit, added, where)
        {
            SpareCores = [.. circuit.Runs.Where(_ => random.Next(3) == 0)
                .Select(r => new SpareCores(r.Id, random.Next(1, 4)))],
        };
        return (question, new HeadroomOptions { CatalogueWatts = [0.5, 1, 2, 3], MostProposals = 20 });
    }

    private static FittingModel AnyLoad(FittingModel fitting, Random random) => fitting with
    {
        Load = (LoadKind)random.Next(3),
        LeastVolts = random.Next(3) == 0 ? 19.2 : null,
        Tail = random.Next(3) == 0 ? new TailModel(3 * random.NextDouble(), 0.75, ConductorClass.Class5) : null,
    };

    private static double AreaOf(Random random) => new[] { 0.75, 1, 1.5, 2.5 }[random.Next(4)];

    private static CircuitModel Series(Random random)
    {
        var watts = Enumerable.Range(0, random.Next(1, 9)).Select(_ => 0.5 + (3 * random.NextDouble()));
        var model = Some.Series([.. watts]);
        model = model with
        {
            Runs = [.. model.Fittings.Select((f, i) =>
                Some.Run(i == 0 ? "driver" : $"f{i}", f.Id, 40 * random.NextDouble(), AreaOf(random)))],
        };
        var volts = Some.Readings(model).DriverVoltsDc.Best;
        return model with
        {
            Driver = model.Driver with
            {
                MostVolts = volts * (1.1 + random.NextDouble()),
                MostWatts = random.Next(2) == 0 ? null : volts * 0.35 * (1.1 + random.NextDouble()),
                LeastVolts = random.Next(2) == 0 ? null : volts * 0.5,
            },
        };
    }

    private static CircuitModel Tree(Random random)
    {
        var names = new List<string> { "driver" };
        var runs = new List<RunModel>();
        var count = random.Next(1, 9);
        for (var i = 1; i <= count; i++)
        {
            runs.Add(Some.Run(names[random.Next(names.Count)], $"n{i}", 1 + (8 * random.NextDouble()), 2.5));
            names.Add($"n{i}");
        }

        var model = new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel { RatedVolts = 24 },
            [.. names.Skip(1).Where((_, i) => i == 0 || random.Next(4) > 0)
                .Select(n => new FittingModel(n, 0.5 + (4 * random.NextDouble())))],
            [.. runs]);
        model = model with
        {
            Fittings = [.. model.Fittings.Select(f => AnyLoad(f, random))],
            Runs = [.. model.Runs.Select(r => random.Next(3) == 0 ? r with { JointOhms = 0.1 } : r)],
        };
        var readings = Some.Readings(model);
        return model with
        {
            Driver = model.Driver with
            {
                MostAmps = readings.DriverMilliamps.Best / 1000 * (1.1 + random.NextDouble()),
                MostWatts = random.Next(2) == 0 ? null : readings.DriverWatts.Best * (1.1 + random.NextDouble()),
            },
        };
    }
}
