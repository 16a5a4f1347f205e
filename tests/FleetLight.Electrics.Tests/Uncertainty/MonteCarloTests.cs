using System.Collections.Immutable;

namespace FleetLight.Electrics.Tests.Uncertainties;

public class MonteCarloTests
{
    private const int Most = 400_000;

    /// <summary>JCGM 101 clause 9.2, tables 2 and 3: u 2.0, 95 % ±3.92 (normal) and ±3.88 (rectangular).</summary>
    [Theory]
    [InlineData(false, 3.92)]
    [InlineData(true, 3.88)]
    public void Additive_model_of_JCGM_101_clause_9_2(bool rectangular, double half)
    {
        var sum = Run(x => x[0] + x[1] + x[2] + x[3], Inputs(rectangular, 4));
        Assert.Equal(0, sum.Mean, 0.02);
        Assert.Equal(2.0, sum.StandardUncertainty, 0.01);
        Assert.Equal(-half, sum.Low95, 0.03);
        Assert.Equal(half, sum.High95, 0.03);
        Assert.Equal(2 * half, sum.ShortestHigh95 - sum.ShortestLow95, 0.05);
    }

    /// <summary>JCGM 101 clause 9.2.4 (published figures from memory): u 10.1, 95 % ±17.0.</summary>
    [Fact]
    public void A_dominating_rectangular_quantity_as_in_JCGM_101_clause_9_2_4()
    {
        var sum = Run(x => x[0] + x[1] + x[2] + (10 * x[3]), Inputs(true, 4));
        Assert.Equal(10.1, sum.StandardUncertainty, 0.1);
        Assert.Equal(17.0, sum.High95, 0.1);
    }

    /// <summary>
    /// JCGM 101 clause 9.3, mass calibration (inputs and published results from memory): 1.234 mg, u 0.0754 mg, shortest
    /// 95 % interval 1.083 to 1.384 mg; the first order gives u 0.0539 mg.
    /// </summary>
    [Fact]
    public void Mass_calibration_of_JCGM_101_clause_9_3()
    {
        InputShape[] shapes = [Shape(false), Shape(false), Shape(true), Shape(true), Shape(true)];
        var mass = Run(Mass, [.. shapes], 800_000);
        Assert.Equal(1.234, mass.Mean, 0.0005);
        Assert.Equal(0.0754, mass.StandardUncertainty, 0.0005);
        Assert.Equal(1.083, mass.ShortestLow95, 0.004);
        Assert.Equal(1.384, mass.ShortestHigh95, 0.004);
    }

    /// <summary>
    /// y = ln x with x rectangular from 0.1 to 1.1 (NPL report DEM-ES-011, clause 9.2): mean −0.665, u 0.606, shortest 95 %
    /// interval −1.895 to 0.095. Exactly (own integration): −0.664900, 0.606227, ln 0.15 to ln 1.1.
    /// </summary>
    [Fact]
    public void Logarithm_of_NPL_DEM_ES_011()
    {
        var log = Run(x => Math.Log(0.6 + (0.5 * x[0] / Math.Sqrt(3))), Inputs(true, 1));
        Assert.Equal(-0.664900, log.Mean, 0.003);
        Assert.Equal(0.606227, log.StandardUncertainty, 0.003);
        Assert.Equal(Math.Log(0.15), log.ShortestLow95, 0.01);
        Assert.Equal(Math.Log(1.1), log.ShortestHigh95, 0.001);
        // The symmetric interval leaves 2.5 % on either side: ln 0.125 to ln 1.075.
        Assert.Equal(Math.Log(0.125), log.Low95, 0.02);
        Assert.Equal(Math.Log(1.075), log.High95, 0.003);
    }

    /// <summary>
    /// NIST TN 1900 example E13, thermal expansion: 1.7268e-5 per °C, u 1.74e-6. Student's t of 3 degrees of freedom,
    /// scaled to the stated standard uncertainty as there, from four normal draws.
    /// </summary>
    [Fact]
    public void Thermal_expansion_of_NIST_TN_1900_E13()
    {
        var expansion = Run(
            x =>
            {
                var (l0, t0) = (1.4999 + (0.0001 * T3(x[..4])), 288.15 + (0.02 * T3(x[4..8])));
                var (l1, t1) = (1.5021 + (0.0002 * T3(x[8..12])), 373.10 + (0.05 * T3(x[12..16])));
                return 1e5 * (l1 - l0) / (l0 * (t1 - t0));
            },
            Inputs(false, 16));
        Assert.Equal(1.727, expansion.Mean, 0.01);
        Assert.Equal(0.174, expansion.StandardUncertainty, 0.005);
    }

    /// <summary>Half a unit of the last significant digit of u, examples as in JCGM 101 clause 7.9.2.</summary>
    [Theory]
    [InlineData(0.00035, 2, 0.000005)]
    [InlineData(0.00035, 1, 0.00005)]
    [InlineData(2.0, 1, 0.5)]
    [InlineData(9.96, 2, 0.5)]
    [InlineData(9.94, 2, 0.05)]
    [InlineData(0, 2, 0)]
    [InlineData(double.NaN, 1, 0)]
    public void Numerical_tolerance(double u, int digits, double tolerance) =>
        Assert.Equal(tolerance, MonteCarlo.Tolerance(u, digits), 1e-12);

    [Fact]
    public void It_stops_as_soon_as_the_results_are_stable_and_no_later_than_allowed()
    {
        TrialModel sum = Model(x => x[0] + x[1]);
        var coarse = MonteCarlo.Run(sum, Inputs(false, 2), 1, 1, 1_000_000, 1);
        Assert.True(coarse.Outputs[0].IsStable);
        Assert.InRange(coarse.Trials, 20_000, 200_000);
        var fine = MonteCarlo.Run(sum, Inputs(false, 2), 1, 2, 50_000, 1);
        Assert.False(fine.Outputs[0].IsStable);
        Assert.Equal(50_000, fine.Trials);
        var constant = MonteCarlo.Run(Model(_ => 1 / 3.0), Inputs(false, 2), 1, 2, 1_000_000, 1);
        Assert.Equal((true, 20_000, 0.0), (
            constant.Outputs[0].IsStable, constant.Trials, constant.Outputs[0].StandardUncertainty));
    }

    /// <summary>Where it says stable, another seed gives the same within the tolerance it states, 19 times of 20.</summary>
    [Fact]
    public void Stable_results_repeat_with_another_seed()
    {
        var runs = Enumerable.Range(0, 40).Select(seed => MonteCarlo.Run(
            Model(x => x[0] * (2 + x[1])), Inputs(true, 2), 1, 1, 1_000_000, (ulong)seed).Outputs[0]).ToArray();
        Assert.All(runs, run => Assert.True(run.IsStable));
        var tolerance = MonteCarlo.Tolerance(runs[0].StandardUncertainty, 1) / 5;
        var middle = runs.Average(r => r.High95);
        Assert.InRange(runs.Count(r => Math.Abs(r.High95 - middle) <= tolerance), 36, 40);
    }

    [Fact]
    public void Trials_without_an_answer_are_counted_and_left_out()
    {
        var half = MonteCarlo.Run(
            (x, y) =>
            {
                y[0] = x[0];
                return x[0] > 0;
            },
            Inputs(true, 1), 1, 1, 100_000, 3);
        Assert.Equal(0.5, half.WithoutAnswer / (double)half.Trials, 0.02);
        Assert.Equal(Math.Sqrt(3) / 2, half.Outputs[0].Mean, 0.01);
        var never = MonteCarlo.Run(Model(_ => double.NaN), Inputs(true, 1), 1, 1, 100_000, 3);
        Assert.Equal(never.Trials, never.WithoutAnswer);
        Assert.Empty(never.Outputs);
    }

    internal static double Mass(ReadOnlySpan<double> x)
    {
        var root = Math.Sqrt(3);
        var (reference, difference) = (100_000 + (0.050 * x[0]), 1.234 + (0.020 * x[1]));
        var air = 1.20 + (0.10 * x[2] / root);
        var (weight, density) = (8000 + (1000 * x[3] / root), 8000 + (50 * x[4] / root));
        return ((reference + difference) * (1 + ((air - 1.2) * ((1 / weight) - (1 / density))))) - 100_000;
    }

    private static double T3(ReadOnlySpan<double> normal) =>
        normal[0] / Math.Sqrt(((normal[1] * normal[1]) + (normal[2] * normal[2]) + (normal[3] * normal[3])) / 3)
        / Math.Sqrt(3);

    private static InputShape Shape(bool rectangular) => new(UncertaintySource.Meter, rectangular);

    private static ImmutableArray<InputShape> Inputs(bool rectangular, int count) =>
        [.. Enumerable.Repeat(Shape(rectangular), count)];

    private static SampledOutput Run(Func<ReadOnlySpan<double>, double> of, ImmutableArray<InputShape> inputs, int most = Most)
    {
        var result = MonteCarlo.Run(Model(of), inputs, 1, 2, most, 2026);
        Assert.Equal(0, result.WithoutAnswer);
        return Assert.Single(result.Outputs);
    }

    private static TrialModel Model(Func<ReadOnlySpan<double>, double> of) => (x, y) =>
    {
        y[0] = of(x);
        return true;
    };
}
