using MathNet.Numerics.Distributions;

namespace FleetLight.Electrics.Tests.Uncertainties;

public class CoverageTests
{
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

    /// <summary>Limits of the distribution: normal 1.96, a single rectangular one 0.95·√3.</summary>
    [Fact]
    public void Factor_runs_from_normal_to_rectangular()
    {
        Assert.Equal(1.959964, Coverage.Factor95(0, 1), 1e-6);
        Assert.Equal(0.95 * Math.Sqrt(3), Coverage.Factor95(1, 1), 1e-6);
        for (var share = 0.0; share < 1; share += 0.01)
            Assert.True(Coverage.Factor95(share, 1) >= Coverage.Factor95(share + 0.01, 1) - 1e-9);
    }

    /// <summary>
    /// JCGM 101 clause 9.2, tables 2 and 3: four normal quantities ±3.92, four rectangular ones ±3.88.
    /// </summary>
    [Fact]
    public void Additive_model_of_JCGM_101_clause_9_2()
    {
        Assert.Equal(3.92, 2 * Coverage.Factor95(0, 2), 0.005);
        // One of the four convolved exactly, the other three as normal: 0.8 % wide of the exact 3.879.
        Assert.Equal(3.88, 2 * Coverage.Factor95(1, 2), 0.035);
    }

    /// <summary>
    /// JCGM 101 clause 9.2.4 (published figures from memory): three rectangular quantities of standard deviation 1
    /// and one of 10 have a 95 % interval of ±17.0, where the factor 1.96 would give ±19.9.
    /// </summary>
    [Fact]
    public void A_dominating_rectangular_quantity_as_in_JCGM_101_clause_9_2_4()
    {
        var combined = Math.Sqrt(103);
        Assert.Equal(17.0, combined * Coverage.Factor95(10, combined), 0.1);
        Assert.Equal(19.9, combined * Coverage.Normal95, 0.1);
    }

    [Theory]
    [InlineData(double.NaN, 1)]
    [InlineData(1, double.NaN)]
    [InlineData(double.PositiveInfinity, double.PositiveInfinity)]
    [InlineData(-1, -1)]
    [InlineData(0, 0)]
    public void Factor_of_nonsense_is_that_of_a_normal_quantity(double largest, double combined) =>
        Assert.Equal(Coverage.Normal95, Coverage.Factor95(largest, combined));
}
