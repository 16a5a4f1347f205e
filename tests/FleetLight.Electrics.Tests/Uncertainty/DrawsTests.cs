using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Statistics;

namespace FleetLight.Electrics.Tests.Uncertainties;

public class DrawsTests
{
    private const int Trials = 200_000;

    private static readonly ImmutableArray<InputShape> Shapes =
    [
        new(UncertaintySource.Meter, true), new(UncertaintySource.Meter, true), new(UncertaintySource.Meter, false),
        new(UncertaintySource.Meter, false),
    ];

    [Fact]
    public void The_same_seed_and_trial_give_the_same_draw_in_any_order()
    {
        Assert.Equal(Draw(7, 123_456), Draw(7, 123_456));
        Assert.NotEqual(Draw(7, 123_456), Draw(7, 123_457));
        Assert.NotEqual(Draw(7, 123_456), Draw(8, 123_456));
        Assert.NotEqual(Draw(7, 1)[0], Draw(7, 0)[1]);
    }

    /// <summary>Rectangular and normal as asked: Kolmogorov-Smirnov distances below the 0.1 % limit 1.95/√n.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(ulong.MaxValue)]
    public void Each_input_has_its_shape(ulong seed)
    {
        var columns = Columns(seed);
        var half = Math.Sqrt(3);
        for (var i = 0; i < 2; i++)
            Assert.InRange(Distance(columns[i], x => ContinuousUniform.CDF(-half, half, x)), 0, 1.95 / Math.Sqrt(Trials));
        for (var i = 2; i < 4; i++)
            Assert.InRange(Distance(columns[i], x => Normal.CDF(0, 1, x)), 0, 1.95 / Math.Sqrt(Trials));
    }

    /// <summary>Correlations between inputs, and of an input with the trial before, below four standard errors.</summary>
    [Fact]
    public void Inputs_and_trials_are_independent()
    {
        var columns = Columns(11);
        for (var i = 0; i < columns.Length; i++)
        {
            Assert.InRange(Math.Abs(Correlation.Pearson(columns[i][1..], columns[i][..^1])), 0, 4 / Math.Sqrt(Trials));
            for (var j = 0; j < i; j++)
                Assert.InRange(Math.Abs(Correlation.Pearson(columns[i], columns[j])), 0, 4 / Math.Sqrt(Trials));
        }
    }

    /// <summary>Pairs of inputs fill the square evenly: chi-square of 32 × 32 cells, 99.9 % limit.</summary>
    [Fact]
    public void Pairs_fill_the_square()
    {
        var columns = Columns(5);
        var cells = new double[1024];
        for (var i = 0; i < Trials; i++) cells[(Cell(columns[0][i]) * 32) + Cell(columns[1][i])]++;
        var expected = Trials / 1024.0;
        var distance = cells.Sum(c => (c - expected) * (c - expected) / expected);
        Assert.InRange(distance, ChiSquared.InvCDF(1023, 0.0005), ChiSquared.InvCDF(1023, 0.9995));
    }

    private static int Cell(double rectangular) => (int)(32 * ((rectangular / Math.Sqrt(3)) + 1) / 2);

    private static double[] Draw(ulong seed, ulong trial)
    {
        var draw = new double[Shapes.Length];
        Draws.Fill(seed, trial, Shapes, draw);
        return draw;
    }

    private static double[][] Columns(ulong seed)
    {
        var draws = Enumerable.Range(0, Trials).Select(t => Draw(seed, (ulong)t)).ToArray();
        return [.. Enumerable.Range(0, Shapes.Length).Select(i => draws.Select(d => d[i]).ToArray())];
    }

    private static double Distance(double[] values, Func<double, double> cumulative)
    {
        var sorted = values.Order().ToArray();
        return sorted.Select((x, i) => Math.Max(
            Math.Abs(cumulative(x) - (i / (double)sorted.Length)),
            Math.Abs(cumulative(x) - ((i + 1) / (double)sorted.Length)))).Max();
    }
}
