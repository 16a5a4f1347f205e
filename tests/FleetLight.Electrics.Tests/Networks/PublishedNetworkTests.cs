using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Networks;

/// <summary>
/// The 33-bus radial network of Baran and Wu (IEEE Transactions on Power Delivery 4(2), 1989), resistances and active
/// powers alone, as direct current. Its published losses are for alternating current with reactances; the
/// direct-current figures here were worked out for this test by an independent backward and forward sweep and guard
/// against change only.
/// </summary>
public class PublishedNetworkTests
{
    // 12.66 kV is beyond what the library takes: a hundredth of the volts and of its square of the watts is the same
    // network.
    private const double VoltScale = 0.01;

    private static readonly double[] Ohms =
    [
        0.0922, 0.4930, 0.3660, 0.3811, 0.8190, 0.1872, 0.7114, 1.0300, 1.0440, 0.1966, 0.3744, 1.4680, 0.5416, 0.5910,
        0.7463, 1.2890, 0.7320, 0.1640, 1.5042, 0.4095, 0.7089, 0.4512, 0.8980, 0.8960, 0.2030, 0.2842, 1.0590, 0.8042,
        0.5075, 0.9744, 0.3105, 0.3410,
    ];

    private static readonly double[] Kilowatts =
    [
        100, 90, 120, 60, 60, 200, 200, 60, 60, 45, 60, 60, 120, 60, 60, 60, 90, 90, 90, 90, 90, 90, 420, 420, 60, 60, 60,
        120, 200, 150, 210, 60,
    ];

    [Fact]
    public void Loss_and_lowest_voltage_stay_what_they_were()
    {
        var readings = Some.Readings(Model(), Some.Bare);
        var lossKilowatts = (readings.DriverWatts.Best / (1000 * VoltScale * VoltScale)) - Kilowatts.Sum();
        Assert.Equal(129.28519, lossKilowatts, 1e-5);
        var lowest = readings.Nodes.MinBy(n => n.VoltsDc.Best)!;
        Assert.Equal("18", lowest.NodeId);
        Assert.Equal(0.93991610, lowest.VoltsDc.Best / (12_660 * VoltScale), 1e-8);
    }

    private static CircuitModel Model()
    {
        static string Bus(int number) => number == 1 ? CircuitModel.DriverNode : $"{number}";
        // The laterals leave the main line at buses 2, 3 and 6.
        static int Feeding(int bus) => bus switch { 19 => 2, 23 => 3, 26 => 6, _ => bus - 1 };
        return new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel { RatedVolts = 12_660 * VoltScale },
            [.. Kilowatts.Select((kilowatts, i) => new FittingModel(
                Bus(i + 2), kilowatts * 1000 * VoltScale * VoltScale))],
            [.. Ohms.Select((ohms, i) =>
                Some.Run(Bus(Feeding(i + 2)), Bus(i + 2), 0) with { JointOhms = ohms })]);
    }
}
