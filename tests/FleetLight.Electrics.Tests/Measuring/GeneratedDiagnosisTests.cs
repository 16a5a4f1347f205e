using FleetLight.Benchmarks.Diagnosing;

namespace FleetLight.Electrics.Tests.Measurements;

/// <summary>
/// A small round of the generated benchmark: every fault of the catalogue is put into drawn circuits, read with a meter
/// that errs, and the diagnosis is set beside an optimal classifier, the next measurement beside halving. The bounds
/// are what was measured, less a margin: they keep both from getting worse.
/// </summary>
public class GeneratedDiagnosisTests
{
    private const int Seed = 4711;
    private const int MostFittings = 12;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void The_fault_is_named_about_as_often_as_can_be(bool asStated)
    {
        var tally = new Tally([.. Enumerable.Range(Seed, 200).Select(seed =>
            Trials.Run(seed, MostFittings, asStated, Suspects.EvenOptions, Suspects.Even))]);
        // Whoever weighs rightly is right as often as sure; the bound is 2.5 standard deviations of 200 circuits.
        Assert.InRange(tally.BestSure - tally.Best1, -0.08, 0.08);
        Assert.InRange(tally.Sure - tally.Top1, -0.08, 0.08);
        Assert.True(tally.DistinguishableShare >= 0.3, $"{tally.DistinguishableShare}");
        Assert.True(
            tally.DistinguishableTop1 >= 0.95 * tally.DistinguishableBest1,
            $"{tally.DistinguishableTop1} of {tally.DistinguishableBest1}");
        Assert.True(tally.Top1 >= 0.93 * tally.Best1, $"{tally.Top1} of {tally.Best1}");
    }

    [Fact]
    public void A_healthy_circuit_is_seldom_called_faulty()
    {
        var healthy = Enumerable.Range(Seed, 150).Select(seed => Trials.Run(
            seed, MostFittings, true, DiagnosisOptions.Default, Suspects.Stated, healthy: true)).ToList();
        Assert.True(healthy.Average(trial => trial.Top1) >= 0.98, $"{healthy.Average(trial => trial.Top1)}");
    }

    [Fact]
    public void The_next_measurement_needs_fewer_readings_than_halving_where_efforts_differ()
    {
        var hunts = Enumerable.Range(Seed, 25).Select(seed => Hunts.Run(seed, true)).ToList();
        double Mean(Way way, Func<HuntResult, double> of) => hunts.Average(hunt => of(hunt[(int)way]));
        Assert.True(Mean(Way.NextMeasurement, h => h.Readings) <= 0.7 * Mean(Way.Halving, h => h.Readings));
        Assert.True(Mean(Way.NextMeasurement, h => h.Minutes) <= 0.7 * Mean(Way.Halving, h => h.Minutes));
        Assert.True(Mean(Way.NextMeasurement, h => h.IsRight ? 1 : 0) >= 0.9);
    }
}
