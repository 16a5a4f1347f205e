using Reference = MathNet.Numerics.Distributions;

namespace FleetLight.Electrics.Tests.Drifts;

public class TrendTests
{
    /// <summary>Wisconsin Administrative Code, Mann–Kendall example: rows −4, +2, −2, −1 and one tie, so S is −5.</summary>
    [Fact]
    public void Mann_kendall_of_the_wisconsin_code()
    {
        double[] values = [100, 50, 85, 75, 50];
        var test = MannKendall.Of(Times(5), values);
        Assert.Equal(-5, test.Score);
        // One pair of ties in five values: (5·4·15 − 2·1·9)/18.
        Assert.Equal(282.0 / 18, test.Variance, 1e-9);
        Assert.False(test.IsExact);
        // Worked out by hand: the median of −50, −7.5, −8.33, −12.5, 35, 12.5, 0, −10, −17.5, −25.
        Assert.Equal((-7.5 - (25.0 / 3) - 10 - 8.5) / 4, TheilSen.Of(Times(5), values, 0.95).Slope, 1.0);
        Assert.Equal(-9.1667, TheilSen.Of(Times(5), values, 0.95).Slope, 1e-4);
    }

    /// <summary>EPA QA/G-9 box 4-7 (from memory): S 6, p 0.117 one-sided.</summary>
    [Fact]
    public void Mann_kendall_of_the_epa_guidance()
    {
        double[] values = [5, 6, 11, 8, 10];
        var test = MannKendall.Of(Times(5), values);
        Assert.Equal(6, test.Score);
        Assert.True(test.IsExact);
        Assert.Equal(0.117, test.Probability / 2, 5e-4);
        Assert.Equal(1.125, TheilSen.Of(Times(5), values, 0.95).Slope, 1e-9);
    }

    /// <summary>Gilbert, Statistical Methods for Environmental Pollution Monitoring, 1987 (from memory): S 4, p 0.167.</summary>
    [Fact]
    public void Mann_kendall_of_gilbert()
    {
        var test = MannKendall.Of(Times(4), [10, 15, 14, 20]);
        Assert.Equal(4, test.Score);
        Assert.Equal(0.167, test.Probability / 2, 5e-4);
    }

    /// <summary>Wisconsin Administrative Code, table of critical S at 90, 95 and 99 % one-sided, n 4 to 10.</summary>
    [Theory]
    [InlineData(4, 6, 6, null)]
    [InlineData(5, 7, 8, 10)]
    [InlineData(6, 8, 11, 13)]
    [InlineData(7, 10, 13, 17)]
    [InlineData(8, 11, 16, 20)]
    [InlineData(9, 14, 18, 24)]
    [InlineData(10, 16, 21, 27)]
    public void Critical_scores(int n, int at90, int at95, int? at99)
    {
        AssertTable(at90, 0.10);
        AssertTable(at95, 0.05);
        if (at99 is { } s) AssertTable(s, 0.01);
        else Assert.Null(Kendall.Critical(0.01, n));

        // S has the parity of the number of pairs; where the table prints the number between two, it means the one above.
        // Its entry 7 for five values at 90 % is such a one.
        void AssertTable(int published, double chance) => Assert.InRange(Kendall.Critical(chance, n)!.Value - published, 0, 1);
    }

    [Fact]
    public void Exact_chances_agree_with_counting_every_permutation()
    {
        foreach (var n in new[] { 3, 5, 6, 7 })
        {
            var scores = Permutations([.. Enumerable.Range(0, n).Select(i => (double)i)])
                .Select(values => MannKendall.Of(Times(n), values).Score).ToList();
            for (var s = -n * (n - 1) / 2; s <= n * (n - 1) / 2; s++)
                Assert.Equal(scores.Count(score => score >= s) / (double)scores.Count, Kendall.AtLeast(s, n), 1e-12);
        }
    }

    [Fact]
    public void The_variance_with_ties_agrees_with_counting_every_permutation()
    {
        double[] times = [1, 2, 2, 3, 4, 5];
        double[] values = [1, 1, 2, 3, 3, 3];
        var scores = Permutations(values).Select(permuted => (double)MannKendall.Of(times, permuted).Score).ToList();
        Assert.Equal(0, scores.Average(), 1e-9);
        Assert.Equal(scores.Average(s => s * s), MannKendall.Of(times, values).Variance, 1e-9);
    }

    [Fact]
    public void The_slope_is_the_median_of_all_pairs()
    {
        var random = new Random(3);
        for (var round = 0; round < 200; round++)
        {
            var n = random.Next(2, 30);
            var times = Enumerable.Range(0, n).Select(_ => (double)random.Next(0, 20)).ToArray();
            var values = Enumerable.Range(0, n).Select(_ => Math.Round(random.NextDouble(), random.Next(1, 6))).ToArray();
            var slopes = (from i in Enumerable.Range(0, n)
                          from j in Enumerable.Range(0, n)
                          where times[i] < times[j]
                          select (values[j] - values[i]) / (times[j] - times[i])).Order().ToList();
            var found = TheilSen.Of(times, values, 0.95);
            Assert.Equal(slopes.Count, found.Pairs);
            if (slopes.Count == 0) continue;
            Assert.Equal((slopes[(slopes.Count - 1) / 2] + slopes[slopes.Count / 2]) / 2, found.Slope, 1e-12);
            if (found.Low is { } low) Assert.True(low <= found.Slope && found.High >= found.Slope, $"{n}: {found} {string.Join(" ", times)} / {string.Join(" ", values)}");
        }
    }

    /// <summary>
    /// Hollander and Wolfe, Nonparametric Statistical Methods, section 9.3: the interval by inverting the exact test is at
    /// least of the confidence asked for, and not much more.
    /// </summary>
    [Theory]
    [InlineData(6)]
    [InlineData(10)]
    [InlineData(24)]
    [InlineData(60)]
    public void The_interval_covers_the_true_slope(int n)
    {
        var random = new Random(n);
        const int rounds = 4000;
        var covered = 0;
        for (var round = 0; round < rounds; round++)
        {
            // Heavy tails: one value in ten scatters ten times as much.
            var values = Times(n).Select(t => (0.4 * t) + (Rows.Normal(random) * (random.Next(10) == 0 ? 10 : 1))).ToArray();
            var found = TheilSen.Of(Times(n), values, 0.95);
            if (found.Low <= 0.4 && found.High >= 0.4) covered++;
        }

        Assert.InRange(covered / (double)rounds, 0.942, n == 6 ? 0.99 : 0.97);
    }

    [Fact]
    public void Weights_lessen_what_a_poor_meter_says()
    {
        var random = new Random(5);
        double even = 0, weighted = 0;
        var covered = 0;
        const int rounds = 2000;
        for (var round = 0; round < rounds; round++)
        {
            var variances = Enumerable.Range(0, 18).Select(i => i % 2 == 0 ? 0.01 : 1.0).ToArray();
            var values = variances.Select((variance, i) => (0.1 * i) + (Math.Sqrt(variance) * Rows.Normal(random))).ToArray();
            even += Math.Pow(TheilSen.Of(Times(18), values, 0.95).Slope - 0.1, 2);
            var found = TheilSen.Of(Times(18), values, 0.95, variances);
            weighted += Math.Pow(found.Slope - 0.1, 2);
            if (found.Low <= 0.1 && found.High >= 0.1) covered++;
        }

        Assert.True(weighted < 0.5 * even);
        Assert.InRange(covered / (double)rounds, 0.93, 0.99);
    }

    [Fact]
    public void Too_few_values_have_no_interval()
    {
        Assert.Null(TheilSen.Of(Times(4), [1, 2, 3, 4], 0.95).Low);
        Assert.Equal(new TheilSen(0, null, null, 0), TheilSen.Of([1, 1], [3, 4], 0.95));
        Assert.Equal(new TheilSen(0, null, null, 0), TheilSen.Of([], [], 0.95));
        Assert.Equal(1, MannKendall.Of([], []).Probability);
    }

    /// <summary>Student's t against MathNet.Numerics.</summary>
    [Fact]
    public void Distributions_agree_with_a_reference_library()
    {
        foreach (var freedom in new[] { 0.7, 1, 2.5, 4, 11, 40, 300 })
        {
            foreach (var t in new[] { 0, 0.1, 0.9, 2, 4.5, 12, 60 })
                Assert.Equal(2 * Reference.StudentT.CDF(0, 1, freedom, -t), TDistribution.TwoSided(t, freedom), 1e-10);
            Assert.Equal(
                Reference.StudentT.InvCDF(0, 1, freedom, 0.975), TDistribution.QuantileTwoSided(0.05, freedom), 1e-6);
        }
    }

    private static double[] Times(int n) => [.. Enumerable.Range(1, n).Select(i => (double)i)];

    private static IEnumerable<double[]> Permutations(double[] values)
    {
        if (values.Length <= 1) return [values];
        return from i in Enumerable.Range(0, values.Length)
               from rest in Permutations([.. values[..i], .. values[(i + 1)..]])
               select (double[])[values[i], .. rest];
    }
}
