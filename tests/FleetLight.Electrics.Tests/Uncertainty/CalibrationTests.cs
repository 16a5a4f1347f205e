using System.Collections.Concurrent;
using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Uncertainties;

/// <summary>
/// Calibration by simulation: what the first-order uncertainty says of circuits, against circuits that are built by chance
/// and solved exactly. Seeded, so that a failure can be run again.
/// </summary>
/// <remarks>
/// 100,000 circuits of each drive and as many again with all that a record may hold (rings, loads of every kind, cable tails,
/// joints, watts stated at another current), each read at three or four places. The standard deviation of a share by chance is 0.07 %
/// for 95 %, and 6 % of the rate for a false alarm rate of 0.3 %: a rate that is off by a fifth would be three of them away.
/// </remarks>
public class CalibrationTests(ITestOutputHelper output)
{
    private const int Chunks = 100;
    private const int CircuitsPerChunk = 1000;

    private static readonly DecisionRule OneInHundred = new() { GreatestRiskOfFailingGood = 0.01 };

    [Theory]
    [InlineData(DriveKind.ConstantCurrent, false)]
    [InlineData(DriveKind.ConstantVoltage, false)]
    [InlineData(DriveKind.ConstantCurrent, true)]
    [InlineData(DriveKind.ConstantVoltage, true)]
    public void Intervals_cover_and_false_alarms_are_as_asked(DriveKind drive, bool withAll)
    {
        var counts = new ConcurrentDictionary<string, Tally>();
        Parallel.For(0, Chunks, chunk => Simulate(drive, withAll, chunk, counts));
        foreach (var (what, count) in counts.OrderBy(c => c.Key))
            output.WriteLine($"{drive}{(withAll ? " with all" : "")}, {what}: {count}");
        foreach (var (what, count) in counts)
        {
            Assert.True(count.Covered is > 0.94 and < 0.96, $"{what}: {count}");
            Assert.True(count.FalseAlarms is > 0.0024 and < 0.0036, $"{what}: {count}");
            Assert.True(count.OneInHundred is > 0.008 and < 0.012, $"{what}: {count}");
            // Of the readings inside the 95 % interval, nearly all are called within.
            Assert.True(count.Within <= count.Covered, $"{what}: {count}");
        }
    }

    /// <summary>
    /// The readings of a visit together, at places that share the circuit's errors: the rate holds for the set. It is as asked
    /// where a quarter of the variance of a meter's error is common to its readings, as is assumed. Where all of it is, it is
    /// lower, and where none is, up to four times as high. By chance a rate of 1 % of 20,000 has a standard deviation of 7 %
    /// of itself.
    /// </summary>
    [Theory]
    [InlineData(DriveKind.ConstantCurrent, 0.25, 20, 0.008, 0.012)]
    [InlineData(DriveKind.ConstantVoltage, 0.25, 20, 0.008, 0.012)]
    [InlineData(DriveKind.ConstantCurrent, 1, 4, 0, 0.012)]
    [InlineData(DriveKind.ConstantVoltage, 1, 4, 0, 0.012)]
    [InlineData(DriveKind.ConstantCurrent, 0, 4, 0.004, 0.04)]
    [InlineData(DriveKind.ConstantVoltage, 0, 4, 0.004, 0.04)]
    public void False_alarms_of_a_set_are_as_asked(
        DriveKind drive, double shared, int chunks, double least, double most)
    {
        int all = 0, outside = 0, beyond5 = 0, alone = 0;
        Parallel.For(0, chunks, chunk =>
        {
            var draw = new HealthyCircuits(2000 + (1000 * (int)drive) + chunk);
            for (var i = 0; i < CircuitsPerChunk; i++)
            {
                var design = Design(drive, draw);
                var plan = CircuitPlan.TryLay(design, null, out _);
                var verdict = Verdicts.JudgeAll(design, draw.Visit(plan!, shared), OneInHundred);
                if (verdict.Compared < 2) continue;
                Interlocked.Increment(ref all);
                if (verdict.Kind == VerdictKind.Outside) Interlocked.Increment(ref outside);
                if (verdict.ShareFartherOff < 0.05) Interlocked.Increment(ref beyond5);
                if (verdict.Each.Any(one => one.Kind == VerdictKind.Outside)) Interlocked.Increment(ref alone);
            }
        });
        output.WriteLine(
            $"{drive}, {all} visits, {shared:P0} of a meter's error common: outside {(double)outside / all:P2} of 1 % asked, "
            + $"{(double)beyond5 / all:P2} beyond 5 %; any one reading alone outside {(double)alone / all:P2}");
        Assert.InRange((double)outside / all, least, most);
        Assert.True(all > 0.99 * chunks * CircuitsPerChunk);
    }

    private static CircuitModel Design(DriveKind drive, HealthyCircuits draw, bool withAll = false) => (drive, withAll) switch
    {
        (DriveKind.ConstantCurrent, false) => draw.Series(),
        (DriveKind.ConstantCurrent, true) => draw.SeriesWithAll(),
        (_, false) => draw.Network(),
        _ => draw.NetworkWithAll(),
    };

    private static void Simulate(DriveKind drive, bool withAll, int chunk, ConcurrentDictionary<string, Tally> counts)
    {
        var draw = new HealthyCircuits((1000 * (int)drive) + (withAll ? 500 : 0) + chunk);
        for (var i = 0; i < CircuitsPerChunk; i++)
        {
            var design = Design(drive, draw, withAll);
            if (Expected.Of(design) is not ExpectedReadings expected) continue;
            if (expected.Notes.Any(n => n.Code == NoteCode.CloseToCollapse)) continue;
            var plan = CircuitPlan.TryLay(design, null, out _);
            Assert.NotNull(plan);
            foreach (var reading in draw.Read(plan))
            {
                var verdict = Verdicts.Judge(expected, reading);
                Assert.Equal(VerdictReason.Compared, verdict.Reason);
                var strict = Verdicts.Judge(expected, reading, OneInHundred);
                Count(counts, "all", verdict, strict);
                var place = reading.Place == CircuitModel.DriverNode ? "driver" : "fitting";
                Count(counts, $"{reading.Quantity} at {place}", verdict, strict);
                Count(counts, Size(design.Fittings.Length), verdict, strict);
            }
        }
    }

    private static string Size(int fittings) => fittings switch
    {
        1 => "1 fitting",
        <= 5 => "2 to 5 fittings",
        _ => "6 to 40 fittings",
    };

    private static void Count(
        ConcurrentDictionary<string, Tally> counts, string what, Verdict verdict, Verdict strict) =>
        counts.GetOrAdd(what, _ => new Tally()).Add(verdict, strict);

    private sealed class Tally
    {
        private int all, covered, within, outside, strictlyOutside;

        public double Covered => covered / (double)all;

        public double Within => within / (double)all;

        public double FalseAlarms => outside / (double)all;

        public double OneInHundred => strictlyOutside / (double)all;

        public void Add(Verdict verdict, Verdict strict)
        {
            Interlocked.Increment(ref all);
            if (verdict.Measured >= verdict.Low && verdict.Measured <= verdict.High) Interlocked.Increment(ref covered);
            if (verdict.Kind == VerdictKind.Within) Interlocked.Increment(ref within);
            if (verdict.Kind == VerdictKind.Outside) Interlocked.Increment(ref outside);
            if (strict.Kind == VerdictKind.Outside) Interlocked.Increment(ref strictlyOutside);
        }

        public override string ToString() =>
            $"{all} readings, 95 % interval covers {Covered:P2}, within {Within:P2}, outside {FalseAlarms:P3} of 0.3 % "
            + $"asked, {OneInHundred:P3} of 1 % asked";
    }
}
