using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>The figures: common practice, no source.</summary>
public sealed class ReadingOutsideTests
{
    [Fact]
    public void A_reading_outside_is_found_and_a_later_one_within_clears_it()
    {
        var job = Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(11.86));
        var finding = job.Finds(ReadingOutside.Rule, "driver:volts-dc");
        Assert.Equal(["crew-a#f2"], finding.Evidence);

        job.Tells(CircuitFacts.Reading(9.2)).FindsNothing(ReadingOutside.Rule);
    }

    [Fact]
    public void Withdrawing_the_later_one_uncovers_it()
    {
        var job = Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(11.86));
        var later = job.TellsOne(CircuitFacts.Reading(9.2));

        job.Tells(Facts.Withdrawn(later)).Finds(ReadingOutside.Rule, "driver:volts-dc");
    }

    [Fact]
    public void It_is_judged_again_when_the_design_arrives_late()
    {
        var job = Job.Of(CircuitFacts.Reading(11.86));
        job.FindsNothing(ReadingOutside.Rule);

        job.Tells(CircuitFacts.Designed()).Finds(ReadingOutside.Rule, "driver:volts-dc");
    }
}
