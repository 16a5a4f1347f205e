using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace FleetLight.Electrics.Tests.Uncertainties;

public class JointSpreadTests
{
    private static readonly double[] Volts = [5.007, 4.994, 5.005, 4.990, 4.999];
    private static readonly double[] Amps = [0.019663, 0.019639, 0.019640, 0.019685, 0.019678];
    private static readonly double[] Angles = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];

    /// <summary>
    /// GUM H.2, simultaneous resistance and reactance: R 127.732 Ω, u 0.071; X 219.847, u 0.295 (unrounded 0.2956);
    /// Z 254.260, u 0.236; r(R,X) −0.588, r(R,Z) −0.485, r(X,Z) 0.993. The five observations are the independent inputs:
    /// each moves the three means together.
    /// </summary>
    [Fact]
    public void Simultaneous_resistance_and_reactance_of_GUM_H_2()
    {
        var (v, i, a) = (Volts.Average(), Amps.Average(), Angles.Average());
        var (r, x, z) = (v / i * Math.Cos(a), v / i * Math.Sin(a), v / i);
        Assert.Equal((127.732, 219.847, 254.260), (Math.Round(r, 3), Math.Round(x, 3), Math.Round(z, 3)));
        var parts = new double[15];
        for (var k = 0; k < 5; k++)
        {
            var scale = 1 / Math.Sqrt(20);
            var (dv, di, da) = (scale * (Volts[k] - v), scale * (Amps[k] - i), scale * (Angles[k] - a));
            parts[k] = r * ((dv / v) - (di / i) - (Math.Tan(a) * da));
            parts[5 + k] = x * ((dv / v) - (di / i) + (da / Math.Tan(a)));
            parts[10 + k] = z * ((dv / v) - (di / i));
        }

        var c = JointSpread.Covariance(parts, 5);
        double[] u = [Math.Sqrt(c[0]), Math.Sqrt(c[4]), Math.Sqrt(c[8])];
        Assert.Equal(0.071, u[0], 0.0005);
        Assert.Equal(0.295, u[1], 0.001);
        Assert.Equal(0.236, u[2], 0.0005);
        Assert.Equal(-0.588, c[1] / u[0] / u[1], 0.001);
        Assert.Equal(-0.485, c[2] / u[0] / u[2], 0.001);
        Assert.Equal(0.993, c[5] / u[1] / u[2], 0.001);
    }

    [Fact]
    public void Distance_and_what_the_others_let_expect_agree_with_a_dense_solve()
    {
        var random = new Random(2);
        double[] parts = [.. Enumerable.Range(0, 4 * 9).Select(_ => random.NextDouble() - 0.4)];
        double[] off = [0.3, -0.8, 1.1, 0.2];
        var joint = JointSpread.TryOf(parts, Shapes(9, false))!;
        var jacobian = Matrix<double>.Build.DenseOfRowMajor(4, 9, parts);
        var precision = (jacobian * jacobian.Transpose()).Inverse();
        var residual = Vector<double>.Build.Dense(off);
        Assert.Equal(residual * (precision * residual), joint.Distance(off), 1e-8);
        var given = joint.GivenTheOthers(off);
        for (var i = 0; i < 4; i++)
        {
            Assert.Equal((precision * residual)[i] / precision[i, i], given[i].Off, 1e-9);
            Assert.Equal(1 / Math.Sqrt(precision[i, i]), given[i].StandardUncertainty, 1e-9);
        }
    }

    /// <summary>Normal inputs: chi-square. One rectangular input alone: 1 − √(d/3).</summary>
    [Fact]
    public void Probability_of_a_greater_distance()
    {
        var random = new Random(3);
        double[] parts = [.. Enumerable.Range(0, 3 * 8).Select(_ => random.NextDouble() - 0.5)];
        var joint = JointSpread.TryOf(parts, Shapes(8, false))!;
        foreach (var d in (double[])[1, 5, 8, 12, 14])
        {
            var exact = 1 - ChiSquared.CDF(3, d);
            Assert.Equal(exact, joint.Beyond(d, [0.003, 0.05]), 0.0005 + (4 * Math.Sqrt(exact * (1 - exact) / 1000)));
        }

        var single = JointSpread.TryOf([2.0], Shapes(1, true))!;
        foreach (var d in (double[])[1, 2, 2.7, 2.95])
            Assert.Equal(1 - Math.Sqrt(d / 3), single.Beyond(d, [0.003, 0.05]), 0.05);
        Assert.InRange(single.Beyond(3.01, [0.003, 0.05]), 0, 0.001);
    }

    [Fact]
    public void Quantities_that_follow_from_one_another_have_no_joint_spread()
    {
        Assert.Null(JointSpread.TryOf([1, 2, 2, 4], Shapes(2, false)));
        Assert.Null(JointSpread.TryOf([0, 0], Shapes(2, false)));
        Assert.Null(JointSpread.TryOf([], []));
        Assert.Null(JointSpread.TryOf([double.NaN, 1], Shapes(2, false)));
    }

    private static ImmutableArray<InputShape> Shapes(int count, bool rectangular) =>
        [.. Enumerable.Repeat(new InputShape(UncertaintySource.Meter, rectangular), count)];
}
