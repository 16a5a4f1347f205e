using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Uncertainties;

/// <summary>
/// Draws designs of both drives, and what a meter shows of the circuit that was built to one: sound, with everything that
/// the design leaves open drawn at random, solved exactly, read with a meter that errs within its accuracy (JCGM 101). The
/// random numbers are the platform's, not those of the library's own simulation.
/// </summary>
internal sealed class HealthyCircuits(int seed)
{
    private static readonly double[] Watts = [1.0, 1.6, 2.0, 2.6, 3.2, 4.2, 6.0];

    private readonly Random random = new(seed);

    /// <summary>A series loop of 1 to 40 fittings on 0 to 60 m of cable each.</summary>
    public CircuitModel Series()
    {
        var count = random.Next(2) == 0 ? random.Next(1, 6) : random.Next(1, 41);
        return new CircuitModel(
            DriveKind.ConstantCurrent,
            new DriverModel
            {
                RatedMilliamps = Pick([350, 500, 700, 1050.0]),
                OutputTolerancePercent = Pick([1, 2, 5, 10.0]),
            },
            [.. Enumerable.Range(1, count).Select(i => Fitting($"f{i}"))],
            [.. Enumerable.Range(1, count).Select(i =>
                Run(i == 1 ? CircuitModel.DriverNode : $"f{i - 1}", $"f{i}", Pick([0.5, 0.75, 1, 1.5, 2.5]), 60))]);
    }

    /// <summary>A branched constant-voltage network of 1 to 30 fittings.</summary>
    public CircuitModel Network()
    {
        var count = random.Next(2) == 0 ? random.Next(1, 6) : random.Next(1, 31);
        var names = new List<string> { CircuitModel.DriverNode };
        var runs = new List<RunModel>();
        for (var i = 1; i <= count; i++)
        {
            runs.Add(Run(names[random.Next(names.Count)], $"f{i}", Pick([2.5, 4, 6]), 120.0 / (count + 5)));
            names.Add($"f{i}");
        }

        return new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel { RatedVolts = Pick([24, 24, 12.0]), OutputTolerancePercent = Pick([0.5, 2, 5.0]) },
            [.. names.Skip(1).Select(Fitting)],
            [.. runs]);
    }

    /// <summary>
    /// A series loop of the same sizes with what else a record may hold: cable tails, joints, watts stated at another current.
    /// </summary>
    public CircuitModel SeriesWithAll()
    {
        var plain = Series();
        return plain with
        {
            Fittings = [.. plain.Fittings.Select(fitting => fitting with
            {
                Tail = Tail(),
                StatedMilliamps = random.Next(3) == 0 ? Pick([350, 500, 700.0]) : null,
            })],
            Runs = [.. plain.Runs.Select(run => run with { JointOhms = Joint() })],
        };
    }

    /// <summary>
    /// A network of the same sizes with what else a record may hold: up to two rings, loads of every kind, cable tails, joints.
    /// </summary>
    public CircuitModel NetworkWithAll()
    {
        var plain = Network();
        var names = plain.Fittings.Select(fitting => fitting.Id).Prepend(CircuitModel.DriverNode).ToArray();
        var rings = Enumerable.Range(1, random.Next(3))
            .Select(i => (Name: $"ring{i}", From: Pick<string>(names), To: Pick<string>(names)))
            .Where(ring => ring.From != ring.To)
            .Select(ring => Run(ring.From, ring.To, Pick([2.5, 4, 6]), 20) with { Id = ring.Name });
        return plain with
        {
            Fittings = [.. plain.Fittings.Select(fitting => fitting with
            {
                Tail = Tail(),
                Load = Pick<LoadKind>(Enum.GetValues<LoadKind>()),
            })],
            Runs = [.. plain.Runs.Select(run => run with { JointOhms = Joint() }), .. rings],
        };
    }

    /// <summary>One circuit built to the design, read at the driver and at one fitting, each time with another meter.</summary>
    public IEnumerable<MeasuredReading> Read(CircuitPlan plan)
    {
        var built = Build(plan);
        foreach (var (place, quantity) in AtDriver().Append((Somewhere(plan), MeasuredQuantity.VoltsDc)))
        {
            var value = built.Predict(place, quantity, []);
            if (!double.IsNaN(value)) yield return Shown(place, quantity, value, Meter(quantity), Even());
        }
    }

    /// <summary>
    /// One circuit built to the design, read at the driver and at some fittings with one meter for each quantity.
    /// </summary>
    /// <param name="plan">The design.</param>
    /// <param name="shared">Share of the variance of a meter's error that is the same in all its readings.</param>
    public MeasuredReading[] Visit(CircuitPlan plan, double shared)
    {
        var built = Build(plan);
        var readings = new List<MeasuredReading>();
        var fittings = Enumerable.Range(0, random.Next(1, 10)).Select(_ => (Somewhere(plan), MeasuredQuantity.VoltsDc));
        foreach (var group in AtDriver().Concat(fittings.Distinct()).GroupBy(one => one.Item2))
        {
            var (meter, common) = (Meter(group.Key), Even());
            foreach (var (place, quantity) in group)
            {
                var value = built.Predict(place, quantity, []);
                var error = (Math.Sqrt(shared) * common) + (Math.Sqrt(1 - shared) * Even());
                if (!double.IsNaN(value)) readings.Add(Shown(place, quantity, value, meter, error));
            }
        }

        return [.. readings];
    }

    private static IEnumerable<(string Place, MeasuredQuantity Quantity)> AtDriver() =>
    [
        (CircuitModel.DriverNode, MeasuredQuantity.VoltsDc),
        (CircuitModel.DriverNode, MeasuredQuantity.Milliamps),
        (CircuitModel.DriverNode, MeasuredQuantity.LoopOhms),
    ];

    private ICircuitState Build(CircuitPlan plan)
    {
        var deviations = new double[plan.Inputs.Length];
        for (var i = 0; i < deviations.Length; i++)
            deviations[i] = plan.Inputs[i].IsRectangular ? Math.Sqrt(3) * Even() : Gaussian();
        var built = plan.Solve([], deviations);
        Assert.NotNull(built);
        return built;
    }

    private string Somewhere(CircuitPlan plan) => plan.Model.Fittings[random.Next(plan.Model.Fittings.Length)].Id;

    private MeterAccuracy Meter(MeasuredQuantity quantity) => quantity switch
    {
        MeasuredQuantity.Milliamps => new(Pick([0.8, 1.5, 2.5]), Pick([1, 3, 5.0]), Pick([0.1, 1])),
        MeasuredQuantity.LoopOhms => new(Pick([0.5, 1]), Pick([2, 5.0]), Pick([0.01, 0.1])),
        _ => new(Pick([0.1, 0.5, 1]), Pick([1, 3, 5.0]), 0.01),
    };

    private static MeasuredReading Shown(
        string place, MeasuredQuantity quantity, double value, MeterAccuracy meter, double error) =>
        new(place, quantity, value + (error * meter.LimitAt(value))) { Meter = meter };

    private FittingModel Fitting(string id) =>
        new(id, Pick(Watts)) { TolerancePercent = Pick([2.5, 5, 10.0]) };

    private RunModel Run(string from, string to, double area, double longest) => new(
        $"{from}-{to}", from, to, random.NextDouble() * longest, area, ConductorClass.Class5)
    {
        LengthTolerancePercent = Pick([2, 5, 10.0]),
        Surroundings = Pick([RunSurroundings.Buried, RunSurroundings.Buried, RunSurroundings.InAir]),
        ConductorCelsius = random.Next(5) == 0 ? 25 : null,
    };

    private TailModel? Tail() => random.Next(3) == 0 ? new TailModel(Pick([1, 3, 10.0]), 0.75, ConductorClass.Class5) : null;

    private double Joint() => random.Next(3) == 0 ? Pick([0.005, 0.02, 0.05]) : 0;

    private double Even() => (2 * random.NextDouble()) - 1;

    private double Gaussian() =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private T Pick<T>(ReadOnlySpan<T> from) => from[random.Next(from.Length)];
}
