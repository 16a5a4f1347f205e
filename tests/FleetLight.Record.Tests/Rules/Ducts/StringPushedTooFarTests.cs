using FleetLight.Contracts;
using FleetLight.Record.Rules.Ducts;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Ducts;

/// <summary>About 10 m: common practice, no source.</summary>
public sealed class StringPushedTooFarTests
{
    [Fact]
    public void More_than_ten_metres_by_rod_is_found()
    {
        Job.Of(Facts.StringLeft(method: StringMethod.PushedByRod, length: 10.5)).Finds(StringPushedTooFar.Rule);
    }

    [Fact]
    public void Ten_metres_by_rod_will_do()
    {
        Job.Of(Facts.StringLeft(method: StringMethod.PushedByRod, length: 10)).FindsNothing(StringPushedTooFar.Rule);
    }

    [Fact]
    public void Without_a_length_that_of_the_duct_counts_when_it_is_known()
    {
        var job = Job.Of(Facts.StringLeft(method: StringMethod.PushedByRod));
        job.FindsNothing(StringPushedTooFar.Rule);

        Assert.Equal(2, job.Tells(Facts.DuctLaid(length: 30)).Finds(StringPushedTooFar.Rule).Evidence.Count);
    }

    [Fact]
    public void Pulling_a_new_string_through_clears_it()
    {
        Job.Of(
            Facts.StringLeft(method: StringMethod.PushedByRod, length: 30),
            Facts.StringLeft(method: StringMethod.Pulled))
            .FindsNothing(StringPushedTooFar.Rule);
    }
}
