namespace FleetLight.Electrics.Tests.Drifts;

public class ControlChartTests
{
    /// <summary>
    /// NIST/SEMATECH e-Handbook 6.3.2.3: target 325, k 0.3175 and h 4.1959 (these two from memory) signal first at
    /// group 14; the cumulative sums are the page's rounded columns, from memory.
    /// </summary>
    [Fact]
    public void Cusum_of_the_nist_handbook()
    {
        double[] data =
        [
            324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600, 324.625, 325.150,
            328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350,
        ];
        var points = ControlCharts.Cusum(data, 325, 0.3175, 4.1959);
        Assert.Equal(14, points.TakeWhile(point => !point.Signals).Count() + 1);
        Assert.All(points.Skip(13), point => Assert.True(point.Signals));
        double[] high = [3.01, 4.94, 7.45, 10.63, 11.99, 14.44, 16.00, 19.04];
        Assert.All(high.Zip(points.Skip(12)), pair => Assert.Equal(pair.First, pair.Second.High, 0.006));
        Assert.Equal(0.715, points.Max(point => point.Low), 1e-9);
    }

    /// <summary>
    /// Montgomery and Runger, Applied Statistics and Probability for Engineers, table 16-8: no signal.
    /// </summary>
    [Fact]
    public void Cusum_of_montgomery_and_runger()
    {
        double[] data =
        [
            102.0, 94.8, 98.3, 98.4, 102.0, 98.5, 99.0, 97.7, 100.0, 98.1,
            101.3, 98.7, 101.1, 98.4, 97.0, 96.7, 100.3, 101.4, 97.2, 101.0,
        ];
        double[] high = [2.0, 0, 0, 0, 2.0, 0.5, 0, 0, 0, 0, 1.3, 0, 1.1, 0, 0, 0, 0.3, 1.7, 0, 1.0];
        double[] low = [0, 3.2, 2.9, 2.5, 0, 0, 0, 0.3, 0, 0, 0, 0, 0, 0, 1.0, 2.3, 0, 0, 0.8, 0];
        var points = ControlCharts.Cusum(data, 99, 1, 10);
        for (var i = 0; i < data.Length; i++)
        {
            Assert.Equal(high[i], points[i].High, 1e-9);
            Assert.Equal(low[i], points[i].Low, 1e-9);
            Assert.False(points[i].Signals);
        }
    }

    /// <summary>NIST/SEMATECH e-Handbook 6.3.2.4: limits 52.5884 and 47.4115, and every average to two places.</summary>
    [Fact]
    public void Ewma_of_the_nist_handbook()
    {
        double[] data =
        [
            52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5,
            49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1,
        ];
        double[] averages =
        [
            50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33,
            50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
        ];
        var points = ControlCharts.Ewma(data, 50, 2.0539, 0.3, 3, steady: true);
        for (var i = 0; i < data.Length; i++)
        {
            Assert.Equal(averages[i], points[i].Value, 0.006);
            Assert.Equal(52.5884, points[i].High, 1e-4);
            // The page cuts the lower limit off instead of rounding it.
            Assert.Equal(47.4115, points[i].Low, 1.5e-4);
            Assert.False(points[i].Signals);
        }
    }

    /// <summary>
    /// Ross, Introduction to Probability and Statistics for Engineers and Scientists, p. 569: signals at 14 and 16. The
    /// book rounds as it goes, so within 0.03.
    /// </summary>
    [Fact]
    public void Ewma_of_ross()
    {
        double[] data = [48, 52, 70, 62, 57, 81, 56, 59, 77, 82, 78, 80, 74, 82, 68, 84];
        double[] averages =
        [
            57, 55.75, 59.31, 59.98, 59.24, 64.68, 62.50, 61.61, 65.48, 69.60, 71.70, 73.78, 73.83, 75.87, 73.90, 76.43,
        ];
        // The chart is about the mean 62 of subgroups of 4 whose values have standard deviation 24; the average starts at 60.
        var points = ControlCharts.Ewma([.. data.Select(value => value - 60)], 0, 24 / Math.Sqrt(4), 0.25, 3, steady: true);
        var half = points[0].High;
        Assert.Equal(75.61, 62 + half, 0.01);
        Assert.Equal(48.39, 62 - half, 0.01);
        List<int> signals = [];
        for (var i = 0; i < data.Length; i++)
        {
            Assert.Equal(averages[i], 60 + points[i].Value, 0.03);
            if (Math.Abs(60 + points[i].Value - 62) > half) signals.Add(i + 1);
        }

        Assert.Equal([14, 16], signals);
    }

    /// <summary>Montgomery, Introduction to Statistical Quality Control, eq. 9.25: the limits widen to the steady ones.</summary>
    [Fact]
    public void The_limits_of_an_average_widen_to_the_steady_ones()
    {
        var points = ControlCharts.Ewma(new double[40], 0, 1, 0.2, 3);
        Assert.Equal(3 * 0.2, points[0].High, 1e-12);
        Assert.Equal(3 * Math.Sqrt(0.2 / 1.8), points[^1].High, 1e-6);
        Assert.Equal(points.Select(point => point.High).Order(), points.Select(point => point.High));
    }

    /// <summary>
    /// Montgomery, table 9.3 and section 9.1: k 0.5 and h 5, both sides, signal once in 465 sound points and 10.4 points
    /// after a shift by one standard deviation.
    /// </summary>
    [Theory]
    [InlineData(0, 465, 25)]
    [InlineData(1, 10.4, 0.4)]
    public void The_run_length_of_a_cusum_chart(double shift, double published, double tolerance)
    {
        var random = new Random(7);
        var lengths = Enumerable.Range(0, 2000).Select(_ => (double)RunLength(random, shift)).ToList();
        Assert.Equal(published, lengths.Average(), tolerance);
    }

    private static int RunLength(Random random, double shift)
    {
        var values = new List<double>();
        for (var many = 64; ; many *= 2)
        {
            while (values.Count < many) values.Add(Rows.Normal(random) + shift);
            var at = ControlCharts.Cusum(values, 0, 0.5, 5).TakeWhile(point => !point.Signals).Count();
            if (at < values.Count) return at + 1;
        }
    }
}
