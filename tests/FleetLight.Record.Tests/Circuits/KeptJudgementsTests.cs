using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>What an earlier version of the models said of a reading stands until a fact changes what it is judged on.</summary>
public sealed class KeptJudgementsTests
{
    private const double Good = 9.15;
    private const double Bad = 11.86;

    private static readonly int Now = Electrics.Expected.ModelVersion;

    [Fact]
    public void What_this_version_judged_is_marked_with_it()
    {
        var (basis, window) = Read(Good);

        var circuit = CircuitJudge.Judge(basis, window);

        Assert.Equal((Now, CircuitVerdict.Within), (circuit.LastReadings[0].ModelVersion, circuit.LastReadings[0].Verdict));
    }

    [Fact]
    public void What_an_earlier_version_said_stands_with_its_version()
    {
        var (basis, window) = Read(Good);

        var circuit = CircuitJudge.Judge(basis, window, Earlier(basis, window, CircuitVerdict.Outside));

        var reading = Assert.Single(circuit.LastReadings);
        Assert.Equal((Now - 1, CircuitVerdict.Outside), (reading.ModelVersion, reading.Verdict));
        Assert.Contains($"version {Now - 1}", reading.Why, StringComparison.Ordinal);
        Assert.Null(reading.Expected);
        Assert.Equal(CircuitVerdict.Outside, circuit.Verdict);
        Assert.Equal(Now - 1, Assert.Single(circuit.Findings, finding => finding.Rule == "reading-outside").ModelVersion);
    }

    [Fact]
    public void What_is_found_on_a_reading_says_by_which_version()
    {
        var (basis, window) = Read(Bad);

        var finding = Assert.Single(CircuitJudge.Judge(basis, window).Findings, finding => finding.Rule == "reading-outside");

        Assert.Equal(Now, finding.ModelVersion);
    }

    [Fact]
    public void Readings_of_two_versions_are_not_judged_together()
    {
        var (basis, volts) = Read(Good, 350);
        var window = volts with { Entries = [volts.Entries[0], volts.Entries[1] with { Quantity = Contracts.ReadingQuantity.Milliamps }] };
        Assert.NotNull(CircuitJudge.Judge(basis, window).Together);

        var circuit = CircuitJudge.Judge(
            basis, window, Earlier(basis, window with { Entries = window.Entries[..1] }, CircuitVerdict.Doubtful));

        Assert.Null(circuit.Together);
        Assert.Equal(CircuitVerdict.Doubtful, circuit.Verdict);
        // Nor those of a circuit that nothing was recorded of since the earlier version.
        var asKept = CircuitJudge.Judge(basis with { ModelVersion = Now - 1 }, window, Earlier(basis, window, CircuitVerdict.Within));
        Assert.Null(asKept.Together);
        Assert.Equal(CircuitVerdict.Within, asKept.Verdict);
    }

    [Fact]
    public void A_reading_that_came_since_is_judged_by_this_version_beside_it()
    {
        var (basis, window) = Read(Bad, Good);
        var earlier = Earlier(basis, window with { Entries = window.Entries[..1] }, CircuitVerdict.Doubtful);

        var circuit = CircuitJudge.Judge(basis, window, earlier);

        Assert.Equal(
            [(Now, CircuitVerdict.Within), (Now - 1, CircuitVerdict.Doubtful)],
            circuit.LastReadings.Select(reading => (reading.ModelVersion, reading.Verdict)));
    }

    [Fact]
    public void It_is_judged_again_once_a_fact_changes_the_circuit()
    {
        var (basis, window) = Read(Bad);
        var earlier = Earlier(basis, window, CircuitVerdict.Within);
        var changed = Job.Of(CircuitFacts.Designed(), CircuitFacts.Connected(CircuitFacts.Driver(most: 48, open: 60)))
            .Works.BasisOf(Facts.Circuit);

        var circuit = CircuitJudge.Judge(changed, window, earlier);

        Assert.NotEqual(basis.Ground, changed.Ground);
        Assert.Equal((Now, CircuitVerdict.Outside), (circuit.LastReadings[0].ModelVersion, circuit.LastReadings[0].Verdict));
    }

    [Fact]
    public void A_fact_that_changes_nothing_of_the_circuit_leaves_it()
    {
        var (basis, _) = Read(Good);
        var labelled = Job.Of(CircuitFacts.Designed(), Facts.CablePulled(), Facts.CableLabelled(), CircuitFacts.Reading(Good))
            .Works.BasisOf(Facts.Circuit);
        var pulled = Job.Of(CircuitFacts.Designed(), Facts.CablePulled(), CircuitFacts.Reading(Good)).Works.BasisOf(Facts.Circuit);

        Assert.Equal(pulled.Ground, labelled.Ground);
        Assert.Equal(basis.Ground, Read(Bad).Basis.Ground);
    }

    [Fact]
    public void Other_settings_are_another_ground()
    {
        var (basis, _) = Read(Good);
        var job = Job.Of(CircuitFacts.Designed());
        job.Works.Judging = new Judging(1, new JudgingSettings { BuriedCelsius = 12 });
        job.Tells(CircuitFacts.Connected());

        Assert.NotEqual(basis.Ground, job.Works.BasisOf(Facts.Circuit).Ground);
    }

    [Fact]
    public void It_is_written_short_and_read_back_the_same()
    {
        var (basis, window) = Read(Bad, Good, Good);
        var mixed = new KeptJudgements(
            basis.Ground,
            new Dictionary<string, KeptJudgement>
            {
                [window.Entries[0].Fact] = new(1, CircuitVerdict.Outside),
                [window.Entries[1].Fact] = new(1, CircuitVerdict.Within),
                [window.Entries[2].Fact] = new(12, CircuitVerdict.CannotBeJudged),
            });

        var text = mixed.ToText(window);
        var again = KeptJudgements.FromText(text, window);

        Assert.Equal($"{basis.Ground} 1ow 12c", text);
        Assert.Equal(mixed.Ground, again.Ground);
        Assert.Equal(mixed.ByFact.OrderBy(pair => pair.Key), again.ByFact.OrderBy(pair => pair.Key));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("ground 1wwwwwww")]
    [InlineData("ground w")]
    public void What_cannot_be_read_counts_as_not_judged(string? text) =>
        Assert.Same(KeptJudgements.None, KeptJudgements.FromText(text, Read(Good).Window));

    private static KeptJudgements Earlier(CircuitBasis basis, ReadingWindow window, CircuitVerdict verdict) => new(
        basis.Ground,
        window.Entries.ToDictionary(entry => entry.Fact, _ => new KeptJudgement(Now - 1, verdict)));

    private static (CircuitBasis Basis, ReadingWindow Window) Read(params double[] volts)
    {
        var job = Job.Of(CircuitFacts.Designed());
        var crew = new Crew().Waits(9);
        return (
            job.Works.BasisOf(Facts.Circuit),
            ReadingWindow.Of(volts.Select(value =>
                ReadingEntry.Of(crew.Records(CircuitFacts.Reading(value)).Of, CircuitFacts.Reading(value))!)));
    }
}
