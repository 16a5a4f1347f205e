using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Uncertainties;

/// <summary>Draws designs, what was really built to them, and what a meter shows of that.</summary>
internal sealed class Simulation(int seed)
{
    private static readonly double[] Watts = [1.0, 1.6, 2.0, 2.6, 3.2, 4.2];
    private static readonly double[] Areas = [0.5, 0.75, 1, 1.5, 2.5];

    private readonly Random random = new(seed);

    public CircuitModel SeriesDesign()
    {
        var count = random.Next(1, 21);
        return new CircuitModel(
            DriveKind.ConstantCurrent,
            new DriverModel { RatedMilliamps = Pick([350, 500, 700.0]), OutputTolerancePercent = Pick([2, 5.0]) },
            [.. Enumerable.Range(1, count).Select(i => new FittingModel($"f{i}", Pick(Watts))
            {
                TolerancePercent = Pick([2.5, 5, 10.0]),
            })],
            [.. Enumerable.Range(1, count).Select(i =>
                Run(i == 1 ? "driver" : $"f{i - 1}", $"f{i}", Pick(Areas), 40))]);
    }

    public CircuitModel TreeDesign()
    {
        var count = random.Next(1, 13);
        var names = new List<string> { "driver" };
        var runs = new List<RunModel>();
        for (var i = 1; i <= count; i++)
        {
            runs.Add(Run(names[random.Next(names.Count)], $"f{i}", Pick([2.5, 4.0]), 8));
            names.Add($"f{i}");
        }

        return new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel { RatedVolts = Pick([12, 24.0]), OutputTolerancePercent = Pick([0.5, 2, 5.0]) },
            [.. names.Skip(1).Select(n => new FittingModel(n, Pick(Watts))
            {
                TolerancePercent = Pick([2.5, 5, 10.0]),
            })],
            [.. runs]);
    }

    /// <summary>
    /// Volts and milliamps at the driver of a series circuit and ohms of its cable, as a meter shows them.
    /// </summary>
    public MeasuredReading[] ReadDriver(CircuitModel built)
    {
        var (drawn, assumptions, fittingVolts) = Build(built);
        var truth = Assert.IsType<ExpectedReadings>(Expected.Of(drawn, assumptions));
        var volts = truth.DriverVoltsDc.Best + fittingVolts.Sum() - truth.Fittings.Sum(f => f.VoltsDc.Best);
        return
        [
            Read("driver", MeasuredQuantity.VoltsDc, volts),
            Read("driver", MeasuredQuantity.Milliamps, truth.DriverMilliamps.Best),
            Read("driver", MeasuredQuantity.LoopOhms, truth.CableLoopOhms!.Best),
        ];
    }

    public MeasuredReading ReadSomething(CircuitModel design, ExpectedReadings expected)
    {
        var (built, assumptions, fittingVolts) = Build(design);
        var truth = Assert.IsType<ExpectedReadings>(Expected.Of(built, assumptions));
        var fitting = random.Next(design.Fittings.Length);
        var series = design.Drive == DriveKind.ConstantCurrent;
        var (place, quantity, value) = random.Next(series ? 4 : 3) switch
        {
            0 => ("driver", MeasuredQuantity.VoltsDc,
                truth.DriverVoltsDc.Best + (series ? fittingVolts.Sum() - truth.Fittings.Sum(f => f.VoltsDc.Best) : 0)),
            1 => ("driver", MeasuredQuantity.Milliamps, truth.DriverMilliamps.Best),
            2 => (expected.Fittings[fitting].FittingId, MeasuredQuantity.VoltsDc,
                series ? fittingVolts[fitting] : truth.Fittings[fitting].VoltsDc.Best),
            _ => ("driver", MeasuredQuantity.LoopOhms, truth.CableLoopOhms!.Best),
        };
        return Read(place, quantity, value);
    }

    public int Next(int below) => random.Next(below);

    private MeasuredReading Read(string place, MeasuredQuantity quantity, double value) =>
        new(place, quantity, value + (Rectangular() * MeterAccuracy.DefaultFor(quantity).LimitAt(value)));

    // A built circuit is worked out with no tolerances left: every open quantity has its drawn value. The forward
    // volts of series fittings are drawn here because they depend on the drawn current through the LED's slope and
    // on temperature.
    private (CircuitModel Built, Assumptions Assumptions, double[] FittingVolts) Build(CircuitModel design)
    {
        var assumed = Assumptions.Default;
        var output = 1 + (Rectangular() * design.Driver.OutputTolerancePercent / 100);
        var kelvin = Gaussian() * assumed.FittingTemperatureStandardUncertaintyKelvin;
        var below = assumed.ConductorBelowMaximumPercent / 200;
        var conductor = (1 - below + (Rectangular() * below)) / (1 - below);
        var soil = assumed.Buried.Celsius + (Gaussian() * assumed.Buried.StandardUncertaintyKelvin);
        var watts = design.Fittings
            .Select(f => f.RatedWatts * (1 + (Rectangular() * f.TolerancePercent / 100))).ToArray();
        var rated = design.Driver.RatedMilliamps.GetValueOrDefault(1) / 1000;
        var volts = watts.Select(w => w / rated * assumed.Led.VoltsRatio(output)
            * (1 + (kelvin * assumed.ForwardVoltsPerKelvinPerVolt))).ToArray();
        var built = design with
        {
            Driver = design.Driver with
            {
                RatedMilliamps = design.Driver.RatedMilliamps * output,
                RatedVolts = design.Driver.RatedVolts * output,
            },
            Fittings = [.. design.Fittings.Select((f, i) => f with { RatedWatts = watts[i] })],
            Runs = [.. design.Runs.Select(r => r with
            {
                LengthMetres = r.LengthMetres * (1 + (Rectangular() * r.LengthTolerancePercent / 100)) * conductor,
            })],
        };
        return (built, assumed with { Buried = new AssumedTemperature(soil, 0) }, volts);
    }

    private RunModel Run(string from, string to, double area, double longest) => new(
        $"{from}-{to}", from, to, 1 + (random.NextDouble() * longest), area, ConductorClass.Class5)
    {
        LengthTolerancePercent = Pick([2, 5, 10.0]),
    };

    private double Rectangular() => (2 * random.NextDouble()) - 1;

    private double Gaussian() =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private double Pick(double[] from) => from[random.Next(from.Length)];
}
