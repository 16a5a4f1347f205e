using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>Figures that installers go by at 350 mA, before cable: common practice, no source.</summary>
public sealed class CheckValueTests
{
    [Theory]
    [InlineData(9, 1.6, 1.6)]
    [InlineData(12, 1.6, 2.6)]
    public void Fittings_in_series_at_350_mA_should_read_about_this_at_the_driver(double volts, params double[] watts)
    {
        var expected = Job.Of(Design(watts)).Circuit.Expected[0].Expected;

        Assert.Equal(volts, expected.Value, 0.2);
        Assert.InRange(volts, expected.Low, expected.High);
    }

    [Theory]
    [InlineData(11.85)]
    [InlineData(11.87)]
    public void Just_under_12_V_is_what_4_point_2_W_should_read(double volts) =>
        Assert.Equal(CircuitVerdict.Within, Job.Of(Design(1.6, 2.6), CircuitFacts.Reading(volts)).Circuit.Verdict);

    [Theory]
    [InlineData(11.85)]
    [InlineData(11.87)]
    public void Against_a_design_of_3_point_2_W_one_fitting_of_2_point_6_W_explains_it(double volts)
    {
        var circuit = Job.Of(Design(1.6, 1.6), CircuitFacts.Reading(volts)).Circuit;

        Assert.Equal(CircuitVerdict.Outside, circuit.Verdict);
        Assert.StartsWith("At the driver", circuit.VerdictWhy, StringComparison.Ordinal);
        var leading = circuit.Explanations[0];
        Assert.Equal("fitting-of-other-wattage", leading.Fault);
        Assert.Contains("2.60 W", leading.Says, StringComparison.Ordinal);
        Assert.Equal(["F1", "F2"], leading.At);
        Assert.Equal(12, leading.Predicts!.Value, 0.2);
        Assert.Equal(1, circuit.Explanations.Sum(one => one.Likelihood), 0.001);
    }

    [Fact]
    public void A_kilometre_of_half_a_square_millimetre_still_runs()
    {
        var design = CircuitFacts.Designed(
            driver: CircuitFacts.Driver(most: 60),
            runs: [CircuitFacts.Run("R1", "driver", "F1", 1000, 0.5)]);

        var expected = Job.Of(design).Circuit.Expected[0].Expected;

        // 9.1 V of fittings and 0.35 A through 2 km of at most 39 Ω/km (IEC 60228, class 5), less what a sound
        // conductor may lack.
        Assert.InRange(expected.Value, 9.1 + (0.9 * 27.3 * 0.98), 9.1 + 27.3);
    }

    private static CircuitDesigned Design(params double[] watts) => CircuitFacts.Designed(
        fittings: [.. watts.Select((one, i) => CircuitFacts.Fitting($"F{i + 1}", one))], runs: []);
}
