namespace FleetLight.Electrics.Tests.Networks;

/// <summary>
/// Operating points found by an independent circuit simulator (ngspice 39, same circuit, relative tolerance 1e-9),
/// and the quadratic of one load behind one resistance.
/// </summary>
public class SixNodeTreeTests
{
    [Theory]
    [InlineData("n1", 11.46932713308)]
    [InlineData("n2", 11.29912524454)]
    [InlineData("n3", 11.21946368269)]
    [InlineData("n4", 11.29912645956)]
    [InlineData("n5", 11.24804558549)]
    [InlineData("n6", 11.2594370864)]
    public void Node_volts_agree(string node, double volts)
    {
        var readings = Some.Readings(Some.SixNodeTree(), Some.Bare);
        Assert.Equal(volts, readings.Nodes.Single(n => n.NodeId == node).VoltsDc.Best, 1e-9);
    }

    [Fact]
    public void Driver_current_power_and_worst_drop_agree()
    {
        var readings = Some.Readings(Some.SixNodeTree(), Some.Bare);
        Assert.Equal(2216.67864209, readings.DriverMilliamps.Best, 1e-6);
        Assert.Equal(26.6001437, readings.DriverWatts.Best, 1e-6);
        Assert.Equal(6.504, readings.WorstDropPercent, 1e-3);
    }
}
