using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>
/// Where the voltage collapses: the simulator is asked how much of a network's power it can still carry; just short of
/// that the electrics find the same voltages, and just beyond it neither finds any.
/// </summary>
public class CollapseAgreementTests(ITestOutputHelper output)
{
    private const int Networks = 10;
    private const double Short = 0.97;
    private const double Beyond = 1.03;

    [Fact]
    public void The_voltage_collapses_where_the_simulator_finds_none()
    {
        Ngspice.Need();
        Agreement running = new(), collapsed = new();
        Parallel.For(0, Networks, new ParallelOptions { MaxDegreeOfParallelism = 2 }, number =>
        {
            var circuit = NetworkCircuits.Make(NetworkKind.NearCollapse, number, Seed.Value);
            var greatest = GreatestScale(circuit);
            var (under, over) = (Scaled(circuit, Short * greatest), Scaled(circuit, Beyond * greatest));
            running.Check(under, Find(under));
            collapsed.Check(over, Find(over));
        });
        output.WriteLine($"short of collapse: {running.Summary}");
        output.WriteLine($"beyond: {collapsed.Summary}");
        running.Hold();
        collapsed.Hold();
        Assert.Equal((Networks, 0), (running.Circuits, running.Collapsed));
        Assert.Equal((Networks, Networks), (collapsed.Circuits, collapsed.Collapsed));
    }

    // The greatest multiple of the watts that the simulator finds voltages for, to 1 %.
    private static double GreatestScale(GeneratedCircuit circuit)
    {
        double low = 0, high = 1;
        while (Find(Scaled(circuit, high)) is not null) (low, high) = (high, 2 * high);
        while (high - low > 0.01 * high)
        {
            var middle = (low + high) / 2;
            if (Find(Scaled(circuit, middle)) is null) high = middle;
            else low = middle;
        }

        return low;
    }

    private static Oracle? Find(GeneratedCircuit circuit)
    {
        NetworkOracle.TrySolve(new AsFound(circuit.Model, circuit.Assumptions, circuit.Changes), out var oracle);
        return oracle;
    }

    private static GeneratedCircuit Scaled(GeneratedCircuit circuit, double scale) => circuit with
    {
        Model = circuit.Model with
        {
            Fittings = [.. circuit.Model.Fittings.Select(f => f.Load == LoadKind.ConstantPower
                // So low a least voltage that none goes dark before.
                ? f with { RatedWatts = scale * f.RatedWatts, LeastVolts = 0.1 }
                : f)],
        },
    };
}
