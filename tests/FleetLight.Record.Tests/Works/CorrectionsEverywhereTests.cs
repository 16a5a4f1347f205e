using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Record.Tests.Works;

/// <summary>Law: all files that hold a fact agree on what of it counts.</summary>
public sealed class CorrectionsEverywhereTests
{
    [Fact]
    public void A_fact_that_was_moved_and_moved_back_is_gone_from_where_it_was_moved_to()
    {
        var job = new Job();
        var label = job.TellsOne(Facts.DuctLabelled("d1"));

        job.Tells(Facts.Replaced(label, Facts.DuctLabelled("d2")));
        Assert.NotNull(job.Works.View<DuctView>("d2").Labels);
        job.Tells(Facts.Replaced(label, Facts.DuctLabelled("d1")));

        Assert.Null(job.Works.View<DuctView>("d2").Labels);
        Assert.NotNull(job.Works.View<DuctView>("d1").Labels);
    }

    [Property(MaxTest = 1000, StartSize = 2, EndSize = 60)]
    public void Files_agree_on_what_counts(PositiveInt size, DoNotSize<int> seed, DoNotSize<int> arrival)
    {
        var works = ConvergenceTests.Run(Histories.Arrival(Histories.Make(size.Get, seed.Item), arrival.Item));

        var counting = works.InMemory.Files
            .SelectMany(file => EffectiveFacts.Of(file).Facts)
            .GroupBy(fact => FactKey.Of(fact.Original.Of), fact => Json(fact.CountingData));
        Assert.All(counting, fact => Assert.Single(fact.Distinct()));
    }

    private static string Json(IFact? data) => JsonSerializer.Serialize(data, WireJson.Lenient);
}
