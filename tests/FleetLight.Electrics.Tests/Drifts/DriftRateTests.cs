namespace FleetLight.Electrics.Tests.Drifts;

/// <summary>How often a sound circuit is said to drift, over made rows whose truth is known.</summary>
public class DriftRateTests
{
    /// <summary>
    /// At each look, after every visit from the fourth on, at most the stated rate of sound rows is said to change, slowly
    /// or suddenly; hardly any asks for a visit; and the interval of the rate covers the truth, no change, as stated.
    /// </summary>
    [Theory]
    [InlineData("no season")]
    [InlineData("season")]
    [InlineData("season, latitude known")]
    [InlineData("season twice as wide as allowed for")]
    [InlineData("weather recorded")]
    [InlineData("two meters")]
    [InlineData("four meters")]
    [InlineData("one meter after the other")]
    [InlineData("every fortnight")]
    [InlineData("every quarter")]
    [InlineData("visits at random, some missed")]
    [InlineData("gross errors")]
    public void Sound_rows_are_seldom_said_to_change(string which)
    {
        const int rows = 150;
        int looks = 0, changed = 0, asked = 0, watched = 0, covered = 0;
        for (var row = 0; row < rows; row++)
        {
            var random = new Random((row * 7919) + which.Length);
            var made = Make(which, random, out var visits);
            var series = made.Of(visits);
            for (var n = 4; n <= series.Readings.Length; n++)
            {
                if (Drift.Of(series with { Readings = series.Readings[..n] }) is not DriftFinding found) continue;
                looks++;
                if (found.Kind is DriftKind.SlowChange or DriftKind.UnexplainedStep) changed++;
                if (found.Kind == DriftKind.Watch) watched++;
                if (found.AsksForVisit) asked++;
                if (found.Rate.Low <= 0 && found.Rate.High >= 0) covered++;
            }
        }

        Assert.True(looks > 900);
        Assert.InRange(changed / (double)looks, 0, DriftOptions.Default.FalseAlarmRate);
        // Two gross errors in a row cannot be told from a step.
        Assert.InRange(asked / (double)looks, 0, which == "gross errors" ? 0.005 : 0.002);
        // Each chart signals by itself once in some 500 points.
        if (which != "gross errors") Assert.InRange(watched / (double)looks, 0, 0.01);
        Assert.InRange(covered / (double)looks, 0.93, 1);
    }

    private static Rows Make(string which, Random random, out int visits)
    {
        var made = new Rows(random) { PhaseDays = random.Next(365) };
        visits = 24;
        switch (which)
        {
            case "no season": return made with { SwingKelvin = 0 };
            case "season, latitude known": return made with { Latitude = true };
            case "season twice as wide as allowed for": return made with { SwingKelvin = 16 };
            case "weather recorded": return made with { Thermometer = true };
            case "two meters": return made with { Meters = 2 };
            case "four meters": return made with { Meters = 4 };
            case "one meter after the other": return made with { Meters = 2, MeterOf = visit => visit < 11 ? 0 : 1 };
            case "every fortnight":
                visits = 36;
                return made with { EveryDays = 14, Meters = 2 };
            case "every quarter":
                visits = 14;
                return made with { EveryDays = 91 };
            case "visits at random, some missed": return made with { Jitter = 25 };
            case "gross errors": return made with { GrossErrors = 0.04 };
            default: return made;
        }
    }

    /// <summary>
    /// A drift is found in time: so many of the rows ask for a visit at least 30 days before the limit is crossed, and
    /// with so many days in hand at the median. Limits lie ± 1.6 V about what is expected of 30.8 V, rows within ± 0.4 V
    /// of it (standard deviation), a reading scatters by 0.08 V with the weather.
    /// </summary>
    [Theory]
    [InlineData("1.2 V a year from the start", 0.75, 120)]
    [InlineData("2.4 V a year from day 300", 0.80, 80)]
    [InlineData("a joint whose resistance doubles in 47 days", 0.60, 40)]
    [InlineData("a joint whose resistance doubles in 90 days", 0.90, 75)]
    public void A_drift_is_found_before_the_limit_is_crossed(string which, double inTime, double median)
    {
        const int rows = 120;
        List<double> inHand = [];
        for (var row = 0; row < rows; row++)
        {
            var random = new Random((row * 31) + 5);
            var made = new Rows(random)
            {
                Meters = 2,
                PhaseDays = random.Next(365),
                Latitude = row % 2 == 0,
                Truth = 30.8 + (0.4 * Rows.Normal(random)),
                Change = which switch
                {
                    "1.2 V a year from the start" => day => 1.2 * day / 365.25,
                    "2.4 V a year from day 300" => day => Math.Max(0, day - 300) * 2.4 / 365.25,
                    // 0.05 Ω at 350 mA.
                    "a joint whose resistance doubles in 47 days" => day => day < 240 ? 0 : 0.0175 * Math.Pow(2, (day - 240) / 47),
                    _ => day => day < 240 ? 0 : 0.0175 * Math.Pow(2, (day - 240) / 90),
                },
            };
            var series = made.Of(60);
            double crossed = 0;
            while (made.Truth + (0.009 * made.Truth) + made.Change(crossed) < series.HighLimit) crossed++;
            for (var n = 4; n <= 60; n++)
            {
                if (Drift.Of(series with { Readings = series.Readings[..n] }) is not DriftFinding { AsksForVisit: true }) continue;
                inHand.Add(crossed - ((n - 1) * made.EveryDays));
                break;
            }
        }

        inHand.Sort();
        Assert.Equal(rows, inHand.Count);
        Assert.True(inHand.Count(days => days >= 30) >= inTime * rows, $"{inHand.Count(days => days >= 30)} of {rows}");
        Assert.True(inHand[rows / 2] >= median, $"{inHand[rows / 2]}");
    }

    /// <summary>Most steps of seven standard deviations are told within two visits, by what they are.</summary>
    [Fact]
    public void A_step_is_told_within_two_visits()
    {
        const int rows = 120;
        var told = 0;
        for (var row = 0; row < rows; row++)
        {
            var random = new Random(row);
            var made = new Rows(random) { PhaseDays = random.Next(365), Change = day => day < 400 ? 0 : 0.6, Meters = 2 };
            // The first reading after the step is that of day 426.
            var found = Drift.Of(made.Of(16)) as DriftFinding;
            if (found?.Kind != DriftKind.UnexplainedStep) continue;
            told++;
            var step = found.Steps.Last(step => !step.IsExplained);
            Assert.InRange(step.Size, 0.25, 0.95);
        }

        Assert.InRange(told, 0.85 * rows, rows);
    }
}
