using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests;

/// <summary>Builders for test data with optional arguments.</summary>
internal static class Some
{
    /// <summary>No tolerance, every conductor at the IEC 60228 maximum and at 20 °C: bare arithmetic.</summary>
    public static Assumptions Bare { get; } = new()
    {
        Buried = new(20, 0),
        InAir = new(20, 0),
        WarmBox = new(20, 0),
        ConductorBelowMaximumPercent = 0,
        FittingTemperatureStandardUncertaintyKelvin = 0,
        StatedTemperatureStandardUncertaintyKelvin = 0,
    };

    public static CircuitModel Series(params double[] watts) => new(
        DriveKind.ConstantCurrent,
        new DriverModel { RatedMilliamps = 350 },
        [.. watts.Select((w, i) => new FittingModel($"f{i + 1}", w))],
        []);

    public static RunModel Run(
        string from, string to, double metres, double area = 2.5, ConductorClass kind = ConductorClass.Class5) =>
        new($"{from}-{to}", from, to, metres, area, kind);

    /// <summary>The six-node 12 V tree that an independent circuit simulator solved: 25 W on 2.5 mm² class 5.</summary>
    public static CircuitModel SixNodeTree() => new(
        DriveKind.ConstantVoltage,
        new DriverModel { RatedVolts = 12 },
        [new("n1", 3), new("n2", 5), new("n3", 7), new("n5", 6), new("n6", 4)],
        [
            Run("driver", "n1", 15), Run("n1", "n2", 10), Run("n2", "n3", 8), Run("n1", "n4", 12),
            Run("n4", "n5", 6), Run("n4", "n6", 7),
        ]);

    public static ExpectedReadings Readings(CircuitModel model, Assumptions? assumptions = null) =>
        Assert.IsType<ExpectedReadings>(Expected.Of(model, assumptions));

    public static MeasuredReading DriverVolts(double volts) =>
        new(CircuitModel.DriverNode, MeasuredQuantity.VoltsDc, volts);
}
