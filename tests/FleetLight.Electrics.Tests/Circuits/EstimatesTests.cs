namespace FleetLight.Electrics.Tests.Circuits;

/// <summary>
/// The estimates of a whole circuit, which are worked out together in linear time, against the parts of each single
/// prediction.
/// </summary>
public class EstimatesTests
{
    [Theory]
    [InlineData(5)]
    public void Every_estimate_is_the_root_sum_of_squares_of_its_parts(int seed)
    {
        var random = new Random(seed);
        int compared = 0, boxes = 0, limited = 0;
        for (var i = 0; i < 1000; i++)
        {
            var model = i % 2 == 0 ? AnyCircuit.Series(random) : AnyCircuit.Network(random, random.Next(4));
            if (Expected.Of(model) is not ExpectedReadings readings) continue;
            var plan = CircuitPlan.TryLay(model, null, out _)!;
            var state = plan.Solve([], [])!;
            if (state is SeriesPoint { Hold: not LoopHold.Current } or NetworkPoint { Hold: not NetworkHold.Volts }) limited++;
            void Check(string place, MeasuredQuantity quantity, Estimate estimate)
            {
                var parts = new double[state.Inputs];
                var value = state.Predict(place, quantity, parts);
                var sum = Math.Sqrt(parts.Sum(p => p * p));
                Assert.Equal(value, estimate.Best, 1e-9 * (1 + Math.Abs(value)));
                Assert.Equal(sum, estimate.StandardUncertainty, 1e-9 + (1e-7 * Math.Abs(value)));
                compared++;
            }

            Check("driver", MeasuredQuantity.VoltsDc, readings.DriverVoltsDc);
            Check("driver", MeasuredQuantity.Milliamps, readings.DriverMilliamps);
            if (readings.CableLoopOhms is { } ohms) Check("driver", MeasuredQuantity.LoopOhms, ohms);
            foreach (var fitting in readings.Fittings)
                Check(fitting.FittingId, MeasuredQuantity.VoltsDc, fitting.VoltsDc);
            foreach (var node in readings.Nodes.Where(n => plan.FittingAt(n.NodeId) < 0))
            {
                Check(node.NodeId, MeasuredQuantity.VoltsDc, node.VoltsDc);
                boxes++;
            }
        }

        Assert.True(compared > 5000, $"{compared}");
        Assert.True(boxes > 500, $"{boxes}");
        Assert.True(limited > 5, $"{limited}");
    }
}
