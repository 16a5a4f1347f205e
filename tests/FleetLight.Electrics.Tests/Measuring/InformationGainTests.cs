using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;

namespace FleetLight.Electrics.Tests.Measurements;

/// <summary>Mutual information against closed forms, a published capacity and an independent integration.</summary>
public class InformationGainTests
{
    [Theory]
    [InlineData(0.5)]
    [InlineData(0.1)]
    [InlineData(0.001)]
    public void Readings_far_apart_tell_all_there_is_to_know(double p)
    {
        var expected = -((p * Math.Log2(p)) + ((1 - p) * Math.Log2(1 - p)));
        Assert.Equal(expected, Two(p, Forecast.Normal(0, 0.1), Forecast.Normal(12, 0.3)), 1e-8);
    }

    [Fact]
    public void The_same_reading_either_way_tells_nothing()
    {
        Assert.Equal(0, Two(0.3, Forecast.Normal(12, 0.2), Forecast.Normal(12, 0.2)), 1e-9);
        Assert.Equal(0, Two(0.3, Forecast.Even(0, 24), Forecast.Even(0, 24)), 1e-9);
    }

    [Fact]
    public void Explanations_of_one_class_need_not_be_told_apart()
    {
        double[] weights = [0.5, 0.5];
        Forecast[] far = [Forecast.Normal(0, 1), Forecast.Normal(50, 1)];
        Assert.Equal(0, InformationGain.Bits(weights, [0, 0], 1, far), 1e-12);
    }

    /// <summary>
    /// The channel with two inputs ±1 and normal noise carries half a bit at σ = 0.97869 (Richardson and Urbanke,
    /// Modern Coding Theory, 2008, table of thresholds for rate 1/2; from memory).
    /// </summary>
    [Fact]
    public void Two_inputs_with_normal_noise_reach_the_published_capacity() =>
        Assert.Equal(0.5, Two(0.5, Forecast.Normal(-1, 0.97869), Forecast.Normal(1, 0.97869)), 1e-5);

    /// <summary>
    /// One level for a fault that reads anything, beside one that foretells: an even and a normal one.
    /// </summary>
    [Fact]
    public void A_narrow_reading_in_an_even_span_agrees_with_an_independent_integration()
    {
        Forecast[] forecasts = [Forecast.Normal(12, 0.05), Forecast.Even(0, 24)];
        Assert.Equal(
            Reference([0.7, 0.3], forecasts, 0, 24), InformationGain.Bits([0.7, 0.3], [0, 1], 2, forecasts), 1e-6);
    }

    [Fact]
    public void Random_mixtures_agree_with_an_independent_integration()
    {
        var random = new Random(31);
        for (var i = 0; i < 60; i++)
        {
            var count = random.Next(2, 7);
            var weights = Enumerable.Range(0, count).Select(_ => random.NextDouble() + 0.01).ToArray();
            var total = weights.Sum();
            for (var k = 0; k < count; k++) weights[k] /= total;
            var forecasts = weights
                .Select(_ => Forecast.Normal(10 * random.NextDouble(), Math.Pow(10, -1.5 + (2 * random.NextDouble()))))
                .ToArray();
            var classes = Enumerable.Range(0, count).ToArray();
            Assert.Equal(
                Reference(weights, forecasts, -35, 45), InformationGain.Bits(weights, classes, count, forecasts), 1e-5);
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.02)]
    [InlineData(0.11)]
    [InlineData(0.5)]
    public void A_binary_symmetric_channel_carries_one_bit_less_its_noise(double error)
    {
        var noise = error > 0 ? -((error * Math.Log2(error)) + ((1 - error) * Math.Log2(1 - error))) : 0;
        double[] joint = [(1 - error) / 2, error / 2, error / 2, (1 - error) / 2];
        Assert.Equal(1 - noise, InformationGain.Bits(joint, 2), 1e-12);
    }

    [Fact]
    public void Entropy_is_that_of_the_shares()
    {
        Assert.Equal(2, InformationGain.Entropy([3, 3, 3, 3]), 1e-12);
        Assert.Equal(1.75, InformationGain.Entropy([0.5, 0.25, 0.125, 0.125, 0]), 1e-12);
        Assert.Equal(0, InformationGain.Entropy([]));
    }

    private static double Two(double p, Forecast one, Forecast other) =>
        InformationGain.Bits([p, 1 - p], [0, 1], 2, [one, other]);

    // H(Y) − Σ p·H(Y|class), each entropy integrated piece by piece.
    private static double Reference(double[] weights, Forecast[] forecasts, double low, double high)
    {
        double Mixture(double x) => weights.Select((w, i) => w * Density(forecasts[i], x)).Sum();
        double Entropy(Func<double, double> density)
        {
            double Inner(double x) => density(x) is > 0 and var d ? -d * Math.Log2(d) : 0;
            var cuts = forecasts
                .SelectMany(f => Enumerable.Range(-8, 17).Select(k => f.Centre + (k * f.Spread)))
                .Append(low).Append(high).Where(x => x >= low && x <= high).Distinct().Order().ToArray();
            return cuts.Zip(cuts.Skip(1), (a, b) => GaussKronrodRule.Integrate(Inner, a, b, out _, out _, 1e-10)).Sum();
        }

        return Entropy(Mixture) - weights.Select((w, i) => w * Entropy(x => Density(forecasts[i], x))).Sum();
    }

    private static double Density(Forecast f, double x) => f.Kind == ForecastKind.Normal
        ? Normal.PDF(f.Centre, f.Spread, x)
        : ContinuousUniform.PDF(f.Low, f.High, x);
}
