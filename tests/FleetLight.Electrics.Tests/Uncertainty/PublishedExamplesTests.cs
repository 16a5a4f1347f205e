using System.Collections.Immutable;
using MathNet.Numerics.Distributions;

namespace FleetLight.Electrics.Tests.Uncertainties;

/// <summary>The pieces of the propagation against worked examples of the GUM and others.</summary>
public class PublishedExamplesTests
{
    /// <summary>
    /// GUM H.1, calibration of an end gauge: components 25, 9.7, 2.9 and 16.6 nm, u 32 nm, length 50 000 838 nm, and with
    /// second-order terms of 11.7 and 1.7 nm 34 nm (the last three from memory).
    /// </summary>
    [Fact]
    public void End_gauge_of_GUM_H_1()
    {
        var comparator = Math.Sqrt((5.8 * 5.8) + (3.9 * 3.9) + (6.7 * 6.7));
        Assert.Equal(9.7, comparator, 0.05);
        const double Standard = 50_000_623;
        var (expansion, difference) = (2e-6 / Math.Sqrt(3), 1e-6 / Math.Sqrt(3));
        var (kelvin, apart) = (Math.Sqrt((0.2 * 0.2) + (0.5 * 0.5 / 2)), 0.05 / Math.Sqrt(3));
        bool Gauge(ReadOnlySpan<double> x, Span<double> y)
        {
            var (length, more) = (Standard + (25 * x[0]), 215 + (comparator * x[1]));
            var warmth = -0.1 + (kelvin * x[2]);
            y[0] = length + more
                - (length * ((difference * x[3] * warmth) + ((11.5e-6 + (expansion * x[4])) * apart * x[5])));
            return true;
        }

        ImmutableArray<InputShape> inputs =
            [Shape(false), Shape(false), Shape(false), Shape(true), Shape(true), Shape(true)];
        var gauge = Assert.Single(SecondOrder.Of(Gauge, inputs, 1));
        Assert.Equal(50_000_838, gauge.Value, 0.5);
        Assert.Equal(32, gauge.FirstOrderUncertainty, 0.5);
        // By the components, with more digits than printed.
        Assert.Equal(
            Math.Sqrt((25 * 25) + (comparator * comparator) + (2.89 * 2.89) + (16.60 * 16.60)),
            gauge.FirstOrderUncertainty, 0.01);
        Assert.Equal(34, gauge.StandardUncertainty, 0.5);
        Assert.Equal(33.81, gauge.StandardUncertainty, 0.01);
        Assert.Equal(0, gauge.Shift, 0.01);
    }

    /// <summary>
    /// JCGM 101 clause 9.3, mass calibration (from memory): first order 0.0539 mg. The product terms make it 0.075 mg,
    /// nearly all of what the simulation finds (0.0754 mg).
    /// </summary>
    [Fact]
    public void Mass_calibration_of_JCGM_101_clause_9_3()
    {
        bool Model(ReadOnlySpan<double> x, Span<double> y)
        {
            y[0] = MonteCarloTests.Mass(x);
            return true;
        }

        var mass = Assert.Single(SecondOrder.Of(
            Model, [Shape(false), Shape(false), Shape(true), Shape(true), Shape(true)], 1));
        Assert.Equal(1.234, mass.Value, 0.0005);
        Assert.Equal(0.0539, mass.FirstOrderUncertainty, 0.0001);
        Assert.Equal(0.0754, mass.StandardUncertainty, 0.001);
    }

    /// <summary>y = ln x of NPL report DEM-ES-011, clause 9.2: first order −0.511 and 0.481.</summary>
    [Fact]
    public void Logarithm_of_NPL_DEM_ES_011()
    {
        static bool Log(ReadOnlySpan<double> x, Span<double> y)
        {
            y[0] = Math.Log(0.6 + (0.5 / Math.Sqrt(3) * x[0]));
            return true;
        }

        var log = Assert.Single(SecondOrder.Of(Log, [Shape(true)], 1));
        Assert.Equal(-0.511, log.Value, 0.0005);
        // By a difference over ± one standard uncertainty, not by the derivative, 0.481: the curve is that bent.
        Assert.InRange(log.FirstOrderUncertainty, 0.481, 0.55);
        Assert.True(log.Shift < -0.1);
        Assert.True(log.StandardUncertainty > log.FirstOrderUncertainty);
    }

    [Fact]
    public void A_model_without_an_answer_nearby_has_no_second_order()
    {
        static bool Cliff(ReadOnlySpan<double> x, Span<double> y)
        {
            y[0] = x[0] + x[1];
            return y[0] < 1.5;
        }

        Assert.Empty(SecondOrder.Of(Cliff, [Shape(true), Shape(true)], 1));
    }

    /// <summary>
    /// Published example: components 0.57 with 9 degrees of freedom and 0.25 well known: 12.8. GUM H.1: comparator 25.6
    /// (25.4 without rounding on the way) of 5.8 (24), 3.9 (5), 6.7 (8).
    /// </summary>
    [Fact]
    public void Effective_degrees_of_freedom()
    {
        var combined = Math.Sqrt((0.57 * 0.57) + (0.25 * 0.25));
        Assert.Equal(12.8, Student.EffectiveDegreesOfFreedom(combined, 0.57, 9), 0.05);
        var comparator = Math.Sqrt((5.8 * 5.8) + (3.9 * 3.9) + (6.7 * 6.7));
        (double U, double Nu)[] parts = [(5.8, 24), (3.9, 5), (6.7, 8)];
        var together = 1 / parts.Sum(p => 1 / Student.EffectiveDegreesOfFreedom(comparator, p.U, p.Nu));
        Assert.Equal(25.4, together, 0.05);
        // The whole gauge: 25 nm (18), the comparator, 2.89 nm (50), 16.6 nm (2): published 16, the whole part.
        var gauge = Math.Sqrt((25 * 25) + (comparator * comparator) + (2.89 * 2.89) + (16.60 * 16.60));
        (double U, double Nu)[] whole = [(25, 18), (comparator, together), (2.89, 50), (16.60, 2)];
        Assert.Equal(16, Math.Floor(1 / whole.Sum(p => 1 / Student.EffectiveDegreesOfFreedom(gauge, p.U, p.Nu))));
        Assert.Equal(double.PositiveInfinity, Student.EffectiveDegreesOfFreedom(1, 0, 3));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(7.9)]
    [InlineData(16)]
    [InlineData(100)]
    public void Student_agrees_with_an_independent_library(double degrees)
    {
        foreach (var p in (double[])[0.5, 0.95, 0.99, 0.997])
        {
            var t = MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, Math.Floor(degrees), (1 + p) / 2);
            Assert.Equal(t / Normal.InvCDF(0, 1, (1 + p) / 2), Student.Widening(p, degrees), 1e-6);
        }
    }

    /// <summary>GUM table G.2: t 12.71, 4.30, 2.23 and 2.09 at 95 % for 1, 2, 10 and 20 degrees of freedom.</summary>
    [Theory]
    [InlineData(1, 12.71)]
    [InlineData(2, 4.30)]
    [InlineData(10, 2.23)]
    [InlineData(20, 2.09)]
    public void Student_of_GUM_table_G_2(int degrees, double t) =>
        Assert.Equal(t, 1.959964 * Student.Widening(0.95, degrees), 0.005);

    [Fact]
    public void Widening_of_nonsense_is_none()
    {
        Assert.Equal(1, Student.Widening(0.95, double.PositiveInfinity));
        Assert.Equal(1, Student.Widening(0.95, double.NaN));
        Assert.Equal(1, Student.Widening(double.NaN, 3));
        Assert.True(Student.Widening(0.95, -5) > 6);
    }

    [Theory]
    [InlineData(0.3, 1)]
    [InlineData(6.6, 1)]
    [InlineData(5.99, 2)]
    [InlineData(7.8, 3)]
    [InlineData(40, 12)]
    [InlineData(10, 25)]
    [InlineData(900, 40)]
    public void Chi_square_agrees_with_an_independent_library(double x, int degrees)
    {
        var beyond = 1 - ChiSquared.CDF(degrees, x);
        Assert.Equal(beyond, ChiSquare.Beyond(x, degrees), 1e-10);
        Assert.Equal(1, ChiSquare.Beyond(-1, degrees));
        Assert.Equal(0, ChiSquare.Beyond(1e6, degrees));
    }

    private static InputShape Shape(bool rectangular) => new(UncertaintySource.Meter, rectangular);
}
