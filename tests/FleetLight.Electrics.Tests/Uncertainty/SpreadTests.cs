using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;

namespace FleetLight.Electrics.Tests.Uncertainties;

public class SpreadTests
{
    private static readonly double[] Probabilities = [0.5, 0.9, 0.95, 0.99, 0.997];

    [Theory]
    [InlineData(-8)]
    [InlineData(-3.5)]
    [InlineData(-1)]
    [InlineData(0)]
    [InlineData(0.5)]
    [InlineData(1.959963984540054)]
    [InlineData(5)]
    [InlineData(9)]
    public void Cumulative_normal_agrees_with_an_independent_library(double x) =>
        Assert.Equal(Normal.CDF(0, 1, x), StandardNormal.Cumulative(x), 1e-13);

    [Theory]
    [InlineData(1e-12)]
    [InlineData(0.0015)]
    [InlineData(0.02424)]
    [InlineData(0.3)]
    [InlineData(0.5)]
    [InlineData(0.975)]
    [InlineData(0.9999)]
    public void Normal_quantile_agrees_with_an_independent_library(double probability) =>
        Assert.Equal(Normal.InvCDF(0, 1, probability), StandardNormal.Quantile(probability), 1e-9);

    /// <summary>Limits of the distribution: normal 1.96, a single rectangular one 0.95·√3.</summary>
    [Fact]
    public void Half_widths_run_from_normal_to_rectangular()
    {
        Assert.Equal(1.959964, new Spread(1, 0, 0, 0).Half(0.95), 1e-6);
        Assert.Equal(2.967738, new Spread(1, 0, 0, 0).Half(0.997), 1e-6);
        Assert.Equal(0.95 * Math.Sqrt(3), new Spread(1, 1, 0, 0).Half(0.95), 1e-6);
        for (var share = 0.0; share < 1; share += 0.01)
        {
            var (wide, narrow) = (new Spread(1, share, 0, 0), new Spread(1, share + 0.01, 0, 0));
            Assert.True(wide.Half(0.95) >= narrow.Half(0.95) - 1e-9);
        }
    }

    /// <summary>JCGM 101 clause 9.2, tables 2 and 3: four normal quantities ±3.92, four rectangular ones ±3.88.</summary>
    [Fact]
    public void Additive_model_of_JCGM_101_clause_9_2()
    {
        Assert.Equal(3.92, new Spread(2, 0, 0, 0).Half(0.95), 0.005);
        Assert.Equal(3.88, Sum(0, 1, 1, 1, 1).Half(0.95), 0.01);
    }

    /// <summary>
    /// JCGM 101 clause 9.2.4 (published figures from memory): three rectangular quantities of standard deviation 1
    /// and one of 10 have a 95 % interval of ±17.0, where the factor 1.96 would give ±19.9.
    /// </summary>
    [Fact]
    public void A_dominating_rectangular_quantity_as_in_JCGM_101_clause_9_2_4()
    {
        var sum = Sum(0, 10, 1, 1, 1);
        Assert.Equal(17.0, sum.Half(0.95), 0.05);
        Assert.Equal(19.9, 1.96 * sum.StandardUncertainty, 0.05);
    }

    /// <summary>Against the exact sum of equal rectangular quantities (Irwin and Hall).</summary>
    [Theory]
    [InlineData(1, 1e-9)]
    [InlineData(2, 1e-9)]
    [InlineData(3, 1e-9)]
    [InlineData(4, 0.004)]
    [InlineData(5, 0.004)]
    [InlineData(8, 0.003)]
    [InlineData(12, 0.002)]
    public void Equal_rectangular_parts_agree_with_their_exact_sum(int count, double tolerance)
    {
        var sum = Sum(0, [.. Enumerable.Repeat(1.0, count)]);
        foreach (var p in Probabilities)
            Assert.Equal(p, 1 - (2 * IrwinHall(sum.Half(p), count)), 20 * tolerance * (1 - p));
        // Between the probabilities asked for above, half-widths differ by less than the tolerance.
        foreach (var p in Probabilities)
        {
            Assert.InRange(
                p,
                1 - (2 * IrwinHall(sum.Half(p) * (1 - tolerance), count)) - 1e-9,
                1 - (2 * IrwinHall(sum.Half(p) * (1 + tolerance), count)) + 1e-9);
        }
    }

    /// <summary>Against the inverted characteristic function (Gil-Pelaez), integrated by an independent library.</summary>
    [Theory]
    [InlineData(0.5, new[] { 1.0 })]
    [InlineData(1.0, new[] { 3.0, 2.0 })]
    [InlineData(0.4, new[] { 1.0, 0.6, 0.2 })]
    [InlineData(0.7, new[] { 1.0, 0.9, 0.8, 0.7 })]
    [InlineData(0.5, new[] { 0.3, 2.0, 0.3, 0.3, 0.3, 0.3, 0.3 })]
    public void Mixed_parts_agree_with_their_exact_sum(double normal, double[] parts)
    {
        var sum = Sum(normal, parts);
        foreach (var p in Probabilities)
        {
            var half = sum.Half(p);
            var exact = 1 - (2 * Exact(-half, normal, parts));
            Assert.Equal(p, exact, parts.Length <= 3 ? 1e-8 : 0.02 * (1 - p));
            Assert.Equal(sum.Below(-half) + 0.5 - sum.Below(0), 1 - (1 + p) / 2, 1e-9);
        }

        Assert.Equal(
            sum.Below(0.3) - sum.Below(-1.1),
            GaussLegendreRule.Integrate(sum.Density, -1.1, 0.3, 64), 1e-9);
    }

    [Fact]
    public void Adding_parts_one_by_one_is_the_same_as_all_at_once()
    {
        var whole = Sum(0.5, 0.3, 2, 1, 0.7, 0.2);
        var grown = new Spread(0, 0, 0, 0).WithNormal(0.5).WithRectangular(0.2).WithRectangular(2).WithRectangular(0.3)
            .WithRectangular(0.7).WithRectangular(1);
        Assert.Equal(whole.StandardUncertainty, grown.StandardUncertainty, 1e-12);
        Assert.Equal(whole.Half(0.997), grown.Half(0.997), 1e-9);
    }

    [Fact]
    public void Any_probability_of_an_estimate_may_be_asked_for()
    {
        var current = Some.Readings(Some.Series(1.6, 1.6)).DriverMilliamps;
        // The driver's tolerance of ±5 % is all there is: rectangular.
        Assert.Equal(0.5 * 17.5, current.HalfInterval(0.5), 1e-6);
        Assert.Equal(current.High95 - current.Best, current.HalfInterval(0.95), 1e-9);
        Assert.Equal(0, current.HalfInterval(0));
        Assert.Equal(17.5, current.HalfInterval(1), 1e-3);
    }

    [Theory]
    [InlineData(double.NaN, 1, 1, 1)]
    [InlineData(1, double.NaN, double.NaN, double.NaN)]
    [InlineData(double.PositiveInfinity, double.PositiveInfinity, 1, 1)]
    [InlineData(-1, -1, -1, -1)]
    [InlineData(0, 0, 0, 0)]
    [InlineData(1, 5, 5, 5)]
    [InlineData(1e-300, 1e-300, 1e-300, 1e-300)]
    [InlineData(1e300, 1e150, 0, 1)]
    public void Nonsense_has_an_answer(double combined, double largest, double second, double others)
    {
        var spread = new Spread(combined, largest, second, others);
        foreach (var p in (double[])[double.NaN, -1, 0, 1e-9, 0.5, 0.95, 0.999999, 1, 2])
            Assert.InRange(spread.Half(p), 0, 1e302);
        foreach (var x in (double[])[-1, 0, 1e-300, 1, 1e300])
        {
            Assert.InRange(spread.Below(x), 0, 1);
            Assert.True(spread.Density(x) >= 0);
        }
    }

    internal static Spread Sum(double normal, params double[] rectangular)
    {
        var budget = new BudgetBuilder();
        budget.Normal(UncertaintySource.Meter, normal);
        foreach (var part in rectangular) budget.Rectangular(UncertaintySource.FittingPower, part);
        return budget.Close(0).Shape;
    }

    // Probability that the sum of so many rectangular quantities of standard deviation 1 is above x.
    private static double IrwinHall(double x, int count)
    {
        var above = count - ((x / (2 * Math.Sqrt(3))) + (count / 2.0));
        double sum = 0;
        for (var k = 0; k <= above; k++)
            sum += Math.Pow(-1, k) * SpecialFunctions.Binomial(count, k) * Math.Pow(above - k, count);
        return sum / SpecialFunctions.Factorial(count);
    }

    private static double Exact(double x, double normal, double[] parts)
    {
        var integral = DoubleExponentialTransformation.Integrate(
            t =>
            {
                var value = Math.Exp(-0.5 * normal * normal * t * t);
                foreach (var part in parts) value *= Trig.Sinc(part * Math.Sqrt(3) * t / Math.PI);
                return value * Math.Sin(t * x) / t;
            },
            1e-12, 12 / normal, 1e-12);
        return 0.5 + (integral / Math.PI);
    }
}
