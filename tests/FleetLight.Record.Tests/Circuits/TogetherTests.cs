using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>The readings of a visit are judged together, so that the stated risk of a false alarm holds for the circuit.</summary>
public sealed class TogetherTests(ITestOutputHelper output)
{
    private const int Designs = 40;
    private const int BuiltToEach = 200;

    /// <summary>
    /// Five readings of each of 8,000 sound circuits with a risk of 1 %. By chance the rate has a standard deviation of a tenth
    /// of itself.
    /// </summary>
    [Fact]
    public void A_sound_circuit_is_called_outside_no_oftener_than_the_risk_that_is_set()
    {
        int outside = 0, found = 0, anyAlone = 0, doubtful = 0;
        Parallel.For(0, Designs, seed =>
        {
            var draw = new HealthyVisits(seed);
            var design = draw.Design();
            var job = new Job();
            job.Works.Judging = new(1, new JudgingSettings { FalseAlarmPercent = 1 });
            var basis = job.Tells(design).Works.BasisOf(Facts.Circuit);
            for (var i = 0; i < BuiltToEach; i++)
            {
                var circuit = CircuitJudge.Judge(basis, Window(draw.Visit(design)), explains: false);
                Assert.Equal(5, circuit.Together!.Compared);
                if (circuit.Verdict == CircuitVerdict.Outside) Interlocked.Increment(ref outside);
                if (circuit.Verdict == CircuitVerdict.Doubtful) Interlocked.Increment(ref doubtful);
                if (circuit.Findings.Any(finding => finding.Rule == "reading-outside")) Interlocked.Increment(ref found);
                if (circuit.LastReadings.Any(reading => reading.Verdict == CircuitVerdict.Outside)) Interlocked.Increment(ref anyAlone);
            }
        });

        const double All = Designs * BuiltToEach;
        output.WriteLine(
            $"Of {All} sound circuits, 1 % asked: outside {outside / All:P2}, alerts on {found / All:P2}, doubtful {doubtful / All:P2}; "
            + $"any of the five readings outside by itself {anyAlone / All:P2}");
        Assert.InRange(outside / All, 0.008, 0.012);
        Assert.Equal(outside, found);
        // What the worst single verdict would say.
        Assert.True(anyAlone / All > 0.02, $"{anyAlone / All:P2}");
    }

    [Fact]
    public void The_status_shows_what_all_say_together()
    {
        var circuit = Job.Of(
            CircuitFacts.Designed(), CircuitFacts.Reading(9.15), CircuitFacts.Reading(350, ReadingQuantity.Milliamps)).Circuit;

        Assert.Equal((CircuitVerdict.Within, 2, CircuitVerdict.Within), (circuit.Together!.Verdict, circuit.Together.Compared, circuit.Verdict));
        Assert.StartsWith("Together as they should be", circuit.Together.Why, StringComparison.Ordinal);
        Assert.InRange(circuit.Together.ProbabilityAsDesigned!.Value, 0.9, 1);
    }

    [Fact]
    public void One_reading_stands_by_itself() => Assert.Null(Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(11.86)).Circuit.Together);

    /// <summary>In a series loop the driver's volts are those of the fittings: high there and low at each cannot both be.</summary>
    [Fact]
    public void Readings_that_contradict_one_another_raise_one_alert_though_each_is_within()
    {
        var fine = new MeterAccuracy { PercentOfReading = 0.1, Digits = 1, Resolution = 0.001 };
        var design = CircuitFacts.Designed(runs: []);
        var circuit = Job.Of(
            design,
            CircuitFacts.Reading(9.45, meter: fine),
            CircuitFacts.Reading(4.4, place: ReadingPlaceKind.Fitting, placeId: "F1", meter: fine),
            CircuitFacts.Reading(4.4, place: ReadingPlaceKind.Fitting, placeId: "F2", meter: fine)).Circuit;

        Assert.All(circuit.LastReadings, reading => Assert.Equal(CircuitVerdict.Within, reading.Verdict));
        Assert.Equal(CircuitVerdict.Outside, circuit.Verdict);
        Assert.Equal(circuit.Together!.Why, circuit.VerdictWhy);
        var finding = Assert.Single(circuit.Findings, finding => finding.Rule == "reading-outside");
        Assert.Equal(("together", 3), (finding.Cause, finding.Evidence.Count));
        Assert.NotEmpty(circuit.Explanations);
    }

    [Fact]
    public void One_that_is_outside_by_itself_keeps_the_circuit_from_being_within()
    {
        var outcomes = Enumerable.Range(0, 400).Select(seed =>
        {
            var draw = new HealthyVisits(1000 + seed);
            var design = draw.Design();
            return Job.Of([design, .. draw.Visit(design)]).Circuit;
        }).Where(circuit => circuit.LastReadings.Any(reading => reading.Verdict == CircuitVerdict.Outside)).ToList();

        Assert.NotEmpty(outcomes);
        Assert.All(outcomes, circuit => Assert.NotEqual(CircuitVerdict.Within, circuit.Verdict));
        var mended = outcomes.First(circuit => circuit.Verdict == CircuitVerdict.Doubtful);
        Assert.Contains("by itself", mended.VerdictWhy, StringComparison.Ordinal);
        Assert.DoesNotContain(mended.Findings, finding => finding.Rule == "reading-outside");
    }

    private static ReadingWindow Window(ReadingTaken[] readings)
    {
        var crew = new Crew();
        var window = ReadingWindow.Empty;
        foreach (var reading in readings)
        {
            var recorded = crew.Records(reading);
            window = window.With(ReadingEntry.Of(recorded.Of, recorded.Data)!);
        }

        return window;
    }
}
