using System.Text.Json;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FleetLight.Electrics.Tests.Drifts;

/// <summary>Whatever goes in, a finding or a named refusal comes out, never an exception, and it can be stored.</summary>
public class DriftTotalityTests
{
    [Property(Arbitrary = [typeof(HostileSeries)], MaxTest = 3000)]
    public bool Drift_is_total(DriftSeries series, DriftOptions options)
    {
        var outcome = Drift.Of(series, options);
        Assert.NotEmpty(JsonSerializer.Serialize(outcome));
        return outcome is CannotTellDrift refusal ? refusal.Text.Length > 0 : Holds((DriftFinding)outcome);
    }

    private static bool Holds(DriftFinding found) =>
        found.Text.Length > 0
        && found.Rate.Low <= found.Rate.PerYear && found.Rate.PerYear <= found.Rate.High
        && found.Chart.Points.All(point => point.Low <= point.Centre && point.Centre <= point.High)
        && found.Crossings.All(crossing => !(crossing.Earliest > crossing.Likely) && !(crossing.Likely > crossing.Latest));

    [Fact]
    public void The_generator_reaches_every_kind_and_most_refusals()
    {
        var outcomes = HostileSeries.Series().Generator.Sample(3000).Select(series => Drift.Of(series)).ToList();
        Assert.Equal(Enum.GetValues<DriftKind>(), outcomes.OfType<DriftFinding>().Select(found => found.Kind).Distinct().Order());
        Assert.Equal(
            [DriftRefusal.TooFewVisits, DriftRefusal.SpanTooShort, DriftRefusal.TooFewSinceWork],
            outcomes.OfType<CannotTellDrift>().Select(refusal => refusal.Reason).Distinct().Order());
    }

    [Fact]
    public void A_thousand_points_are_answered_from_the_newest()
    {
        var row = new Rows(new Random(1)) { EveryDays = 4 }.Of(1000);
        Assert.Equal(400, Assert.IsType<DriftFinding>(Drift.Of(row)).Chart.Points.Length);
    }

    private static class HostileSeries
    {
        public static Arbitrary<DriftSeries> Series() => Arb.From(
            from quantity in Gen.Elements(0, 0, 0, 1, 2, 3, 9)
            from seed in Gen.Choose(0, int.MaxValue)
            from wild in Gen.Elements(0.0, 0.0, 0.02, 0.3)
            select Make((MeasuredQuantity)quantity, new Random(seed), wild));

        public static Arbitrary<DriftOptions> Options() => Arb.From(
            from figures in Gen.ArrayOf(Gen.Elements(0.0, 0.01, 0.5, 3, 1e9, -1, double.NaN, double.PositiveInfinity), 11)
            from isDefault in Gen.Elements(true, true, false)
            select isDefault
                ? DriftOptions.Default
                : new DriftOptions
                {
                    Confidence = figures[0],
                    FalseAlarmRate = figures[1],
                    LeastVisits = (int)Math.Clamp(figures[2], -5, 500),
                    LeastSpanDays = figures[3],
                    VisitDays = figures[4],
                    LeadDays = figures[5],
                    SeasonKelvin = figures[6],
                    WeatherKelvin = figures[7],
                    ReferenceCelsius = figures[8],
                    CusumDecision = figures[9],
                    EwmaWeight = figures[10],
                });

        private static DriftSeries Make(MeasuredQuantity quantity, Random random, double wild)
        {
            double Odd(double sane) => random.NextDouble() >= wild
                ? sane
                : random.Next(9) switch
                {
                    0 => double.NaN,
                    1 => double.PositiveInfinity,
                    2 => double.NegativeInfinity,
                    3 => 1e300,
                    4 => -1e9,
                    5 => 1e9,
                    6 => 0,
                    7 => double.Epsilon,
                    _ => sane * 10,
                };
            var step = random.Next(3) == 0 ? 2.0 : 0;
            var slope = random.Next(3) == 0 ? 0.004 : 0;
            var at = random.Next(40);
            var every = random.Next(4) == 0 ? 4 : 20;
            DriftReading Reading(int i) => new(Time(i), Odd(20 + (0.1 * Rows.Normal(random)) + (slope * i * 20) + (i > at ? step : 0)))
            {
                Expected = random.Next(4) == 0 && wild > 0 ? null : Odd(20),
                ExpectedStandardUncertainty = random.Next(2) == 0 ? null : Odd(0.2),
                MeterId = random.Next(3) == 0 ? null : $"m{random.Next(3)}",
                DesignId = wild == 0 || random.Next(2) == 0 ? null : $"d{random.Next(3)}",
                Celsius = random.Next(2) == 0 ? null : Odd(15),
                Meter = random.Next(2) == 0 ? null : new MeterAccuracy(Odd(1), Odd(3), Odd(0.01)),
            };
            DateTimeOffset Time(int i) => random.NextDouble() >= wild / 4
                ? Rows.Start.AddDays(every * i)
                : random.Next(2) == 0 ? DateTimeOffset.MinValue : DateTimeOffset.MaxValue;
            return new DriftSeries(quantity, [.. Enumerable.Range(0, random.Next(40)).Select(Reading)])
            {
                Works = [.. Enumerable.Range(0, random.Next(3)).Select(_ => new RecordedWork(Time(random.Next(40)), "work"))],
                LowLimit = random.Next(2) == 0 ? null : Odd(15),
                HighLimit = random.Next(2) == 0 ? null : Odd(24),
                SharePerKelvin = random.Next(3) == 0 ? Odd(0.001) : null,
                LatitudeDegrees = random.Next(2) == 0 ? Odd(-40) : null,
            };
        }
    }
}
