using System.Collections.Immutable;
using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;
using MathNet.Numerics.LinearAlgebra;

namespace FleetLight.Electrics.Tests.Diagnoses;

/// <summary>
/// Posteriors beside a calculation of their own: a loop of two fittings worked out by hand, the normal density by an
/// independent library, and the free figure integrated out by brute force on a fine grid.
/// </summary>
public class PosteriorTests
{
    private const double Root3 = 1.7320508075688772;
    private const double Amps = 0.35;
    private const double Watts = 1.6;
    private const double Metres = 40;

    // 1.5 mm² class 5, IEC 60228:2004 table 3: 13.3 Ω/km, out and back.
    private const double CableOhms = 2 * 0.0133 * Metres;

    private static readonly CircuitModel Model = Some.Series(Watts, Watts) with
    {
        Runs = [Some.Run("driver", "f1", Metres, 1.5), Some.Run("f1", "f2", 0, 1.5)],
    };

    private static readonly DiagnosisOptions Options = new()
    {
        Priors = FaultCatalogue.Default.ToImmutableDictionary(fault => fault.Kind, fault => fault.Kind switch
        {
            FaultKind.AsDesigned => 0.8,
            FaultKind.HighResistanceJoint => 0.12,
            FaultKind.FittingOfUnlistedWattage => 0.08,
            FaultKind.NoneOfThese => 1e-30,
            _ => 0,
        }),
    };

    [Theory]
    [InlineData(9.5, 350, 1.1)]
    [InlineData(10.2, 352, 1.1)]
    [InlineData(10.2, 352, 3.4)]
    [InlineData(9.6, 341, 1.6)]
    [InlineData(12.5, 350, 9.7)]
    [InlineData(8.1, 349, 1.0)]
    [InlineData(60, 350, 140)]
    public void They_are_those_of_a_fine_grid(double volts, double milliamps, double ohms) => Compare(
    [
        Some.DriverVolts(volts), new("driver", MeasuredQuantity.Milliamps, milliamps),
        new("driver", MeasuredQuantity.LoopOhms, ohms),
    ]);

    [Fact]
    public void They_are_where_a_reading_says_nothing_of_the_figure() =>
        Compare([new("driver", MeasuredQuantity.Milliamps, 361)]);

    [Theory]
    [InlineData(9.3)]
    [InlineData(11)]
    [InlineData(25)]
    [InlineData(180)]
    public void They_are_with_one_reading(double volts) => Compare([Some.DriverVolts(volts)]);

    private static void Compare(MeasuredReading[] readings)
    {
        var mine = Electrics.Diagnosis.Weigh(Model, readings, Options, Some.Bare, out _)!.Hypotheses
            .GroupBy(h => h.Kind).ToDictionary(g => g.Key, g => g.Sum(h => h.Probability));
        var (leastJoint, mostJoint, leastWatts, mostWatts) = (0.5, 500.0, 0.3, 4 * 4.2);
        var sound = 0.8 * Density(readings, Watts, 0);
        var joint = 0.12 * OnGrid(
            Math.Log(leastJoint), Math.Log(mostJoint), u => Density(readings, Watts, Math.Exp(u)));
        var watts = 0.08 * OnGrid(leastWatts, mostWatts, w => Density(readings, w, 0));
        var all = sound + joint + watts;
        AssertNear(sound / all, mine.GetValueOrDefault(FaultKind.AsDesigned));
        AssertNear(joint / all, mine.GetValueOrDefault(FaultKind.HighResistanceJoint));
        AssertNear(watts / all, mine.GetValueOrDefault(FaultKind.FittingOfUnlistedWattage));
    }

    // A tenth of the odds is far below what a stated prior is sure to.
    private static void AssertNear(double expected, double actual)
    {
        if (expected is < 2e-4 or > 0.9998) Assert.Equal(expected, actual, 1e-3);
        else Assert.InRange(Odds(actual) / Odds(expected), 0.9, 1.11);
    }

    private static double Odds(double p) => p / (1 - p);

    // Mean density over the range, in 4,000 steps.
    private static double OnGrid(double from, double to, Func<double, double> density) =>
        SimpsonRule.IntegrateComposite(density, from, to, 4000) / (to - from);

    // One fitting may have other watts, and a joint may have a resistance. Inputs: driver's current (±5 %), the power of each
    // fitting (±10 %), the length (±5 %), all rectangular; the conductor at 20 °C and at its greatest resistance.
    private static double Density(MeasuredReading[] readings, double watts, double joint)
    {
        double first = watts / Amps, second = Watts / Amps;
        var ohms = CableOhms + joint;
        var curve = LedCurve.Default;
        var driver = 0.05 / Root3;
        var byCurrent = ((first + second) * (curve.LogarithmicShare + curve.ResistiveShare)) + (Amps * ohms);
        var rows = readings.Select(reading => reading.Quantity switch
        {
            MeasuredQuantity.VoltsDc => (
                Mean: first + second + (Amps * ohms),
                Parts: new[]
                {
                    byCurrent * driver, first * 0.1 / Root3, second * 0.1 / Root3, Amps * CableOhms * 0.05 / Root3,
                },
                Floor: 0.02),
            MeasuredQuantity.Milliamps => (1000 * Amps, [1000 * Amps * driver, 0, 0, 0], 0.5),
            _ => (ohms, [0, 0, 0, CableOhms * 0.05 / Root3], 0.02),
        }).ToArray();
        var covariance = Matrix<double>.Build.Dense(rows.Length, rows.Length, (i, j) =>
            rows[i].Parts.Zip(rows[j].Parts, (a, b) => a * b).Sum());
        for (var i = 0; i < rows.Length; i++)
        {
            var meter = MeterAccuracy.DefaultFor(readings[i].Quantity).LimitAt(readings[i].Value) / Root3;
            covariance[i, i] += (meter * meter) + (rows[i].Floor * rows[i].Floor);
        }

        var off = Vector<double>.Build.Dense(rows.Length, i => readings[i].Value - rows[i].Mean);
        return Math.Exp(-0.5 * (off * covariance.Inverse() * off))
            / Math.Sqrt(Math.Pow(Constants.Pi2, rows.Length) * covariance.Determinant());
    }

    [Fact]
    public void A_truncated_normal_is_that_of_brute_force()
    {
        foreach (var curvature in new[] { 0, 1e-5, 0.01, 1, 40, 1e4 })
        {
            foreach (var centre in new[] { -30, -1, 0, 0.3, 0.5, 0.97, 1, 4 })
            {
                if (curvature * centre * centre > 1000) continue;
                var mine = TruncatedNormal.Of(curvature, centre);
                double Weight(double t) => Math.Exp(-0.5 * curvature * (t - centre) * (t - centre));
                double On(Func<double, double> f) => SimpsonRule.IntegrateComposite(f, 0, 1, 20_000);
                var all = On(Weight);
                var mean = On(t => t * Weight(t)) / all;
                var variance = On(t => (t - mean) * (t - mean) * Weight(t)) / all;
                Assert.Equal(Math.Log(all), mine.LogIntegral, 0.01);
                Assert.Equal(mean, mine.Mean, 0.003);
                Assert.Equal(variance, mine.Variance, 0.003);
            }
        }
    }

    [Fact]
    public void Far_from_the_range_only_its_edge_counts()
    {
        var mine = TruncatedNormal.Of(1e4, 3);
        // ∫exp(−½·k·(t − c)²)dt ≈ exp(−½·k·(1 − c)²)/(k·(c − 1)) for c far beyond 1.
        Assert.Equal((-0.5 * 1e4 * 4) - Math.Log(2e4), mine.LogIntegral, 1e-3);
        Assert.InRange(mine.Mean, 0.999, 1);
    }

    [Fact]
    public void The_divergence_of_two_hypotheses_is_that_of_the_normal_distributions()
    {
        var circuit = Electrics.Diagnosis.Weigh(
            Model, [Some.DriverVolts(11), new("driver", MeasuredQuantity.Milliamps, 355)], null, null, out _)!;
        var evidence = Evidence.Of(
            [Some.DriverVolts(11), new("driver", MeasuredQuantity.Milliamps, 355)], Model, circuit.Plan.Solve([], [])!);
        var fixedOnes = circuit.Hypotheses.Where(h => h.State is not null && h.Beside is null && h.SlipRow < 0).ToList();
        Assert.True(fixedOnes.Count > 8);
        foreach (var (one, other) in fixedOnes.Zip(fixedOnes.Skip(1)))
        {
            var (a, b) = (Covariance(one.Seen!), Covariance(other.Seen!));
            var off = Vector<double>.Build.Dense(one.Seen!.Mean) - Vector<double>.Build.Dense(other.Seen!.Mean);
            var spread = ((a.Inverse() * b).Trace() + (b.Inverse() * a).Trace()) / 2;
            var distance = off * (a.Inverse() + b.Inverse()) * off / 2;
            // A large one is not worked out to the end.
            if (distance > Likeness.Most) Assert.True(Likeness.Divergence(one, other, evidence) > Likeness.Most);
            else Assert.Equal(spread - 2 + distance, Likeness.Divergence(one, other, evidence), 6);
        }
    }

    [Fact]
    public void Equal_faults_at_the_stated_divergence_are_told_apart_69_times_in_100() =>
        Assert.Equal(0.69, Normal.CDF(0, 1, Math.Sqrt(Likeness.Most) / 2), 2);

    private static Matrix<double> Covariance(Observation seen)
    {
        var count = seen.Mean.Length;
        var factor = Matrix<double>.Build.Dense(count, count, (i, j) => j <= i ? seen.Factor[(i * count) + j] : 0);
        return factor * factor.Transpose();
    }
}
