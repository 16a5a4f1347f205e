namespace FleetLight.Electrics.Tests.Uncertainties;

/// <summary>Draws what was really built to a design, and what a meter shows of that.</summary>
internal sealed class Simulation(int seed)
{
    private readonly Random random = new(seed);

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

    private double Rectangular() => (2 * random.NextDouble()) - 1;

    private double Gaussian() =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
