using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Files;
using FleetLight.Record.Works;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Record.Tests.Works;

/// <summary>What whoever holds facts in memory may rely on, beside the laws of convergence.</summary>
public sealed class MemoryWorksTests
{
    private readonly Crew crew = new();

    [Fact]
    public void Facts_of_a_site_give_its_things_and_findings()
    {
        var works = new MemoryWorks();

        var changed = works.Take(
        [
            crew.Records(Facts.SiteOpened(name: "Garden")), crew.Records(Facts.DuctLaid("d1")),
            crew.Records(CircuitFacts.Designed()), crew.Records(CircuitFacts.Reading(1)),
            crew.Records(Facts.DuctLaid("d2", siteId: "elsewhere")),
        ]);

        Assert.Equal("Garden", works.SiteOf(Facts.Site)!.Name);
        Assert.Equal(CircuitVerdict.Outside, works.CircuitOf(Facts.Circuit)!.Verdict);
        Assert.Equal([Facts.Site, Facts.Circuit, "d1"], works.ViewsOfSite(Facts.Site).Select(view => view.Id));
        Assert.Contains(works.FindingsOfSite(Facts.Site), finding => finding.Rule == "reading-outside");
        Assert.Equal(works.Things.ToHashSet(), changed.ToHashSet());
        Assert.Null(works.CircuitOf("other"));
        Assert.Equal(1, Assert.Single(works.ReadingsOf(Facts.Circuit)).Value);
    }

    [Fact]
    public void Explanations_are_for_who_asks_for_the_circuit()
    {
        var works = new MemoryWorks();
        works.Take([crew.Records(CircuitFacts.Designed()), crew.Records(CircuitFacts.Reading(1))]);

        Assert.Empty(works.CircuitLineOf(Facts.Circuit)!.Explanations);
        Assert.NotEmpty(works.CircuitOf(Facts.Circuit)!.Explanations);
        Assert.Equal(Written(works.CircuitLineOf(Facts.Circuit)!.Findings), Written(works.CircuitOf(Facts.Circuit)!.Findings));
        Assert.Same(works.CircuitOf(Facts.Circuit), works.CircuitOf(Facts.Circuit));
    }

    [Fact]
    public void The_line_of_a_circuit_comes_in_steps_as_well_and_is_remembered_unless_facts_came_meanwhile()
    {
        var works = new MemoryWorks();
        works.Take([crew.Records(CircuitFacts.Designed()), crew.Records(CircuitFacts.Reading(1))]);
        var whole = new MemoryWorks();
        whole.Take(works.Facts);

        var steps = works.CircuitLineInSteps(Facts.Circuit).ToList();

        Assert.True(steps.Count > 10, $"There are {steps.Count} steps.");
        Assert.All(steps.SkipLast(1), Assert.Null);
        Assert.Equal(Written(whole.CircuitLineOf(Facts.Circuit)!), Written(steps[^1]!));
        Assert.Same(steps[^1], works.CircuitLineOf(Facts.Circuit));
        Assert.Same(steps[^1], Assert.Single(works.CircuitLineInSteps(Facts.Circuit)));
        Assert.Null(Assert.Single(works.CircuitLineInSteps("other")));

        works.Take([crew.Records(CircuitFacts.Reading(2))]);
        CircuitView? late = null;
        foreach (var step in works.CircuitLineInSteps(Facts.Circuit))
        {
            if (late is null && step is null) works.Take([crew.Records(CircuitFacts.Reading(9.5))]);
            late = step;
        }

        Assert.Equal(9.5, works.CircuitLineOf(Facts.Circuit)!.LastReadings[0].Value);
    }

    [Fact]
    public void Settings_that_change_judge_again()
    {
        var works = new MemoryWorks();
        works.Take([crew.Records(CircuitFacts.Designed()), crew.Records(CircuitFacts.Reading(9.8))]);
        Assert.Equal(CircuitVerdict.Doubtful, works.CircuitOf(Facts.Circuit)!.Verdict);

        works.Judging = new(1, new() { FalseAlarmPercent = 40 });

        Assert.Equal(CircuitVerdict.Outside, works.CircuitOf(Facts.Circuit)!.Verdict);
    }

    [Fact]
    public void A_fact_after_its_corrections_is_told()
    {
        var laid = crew.Records(Facts.DuctLaid("d1"));
        var withdrawn = crew.Records(Facts.Withdrawn(laid));
        var works = new MemoryWorks();

        works.Take([withdrawn]);
        Assert.Null(works.EffectiveOf(FactKey.Of(laid.Of)));
        works.Take([laid]);

        Assert.Null(works.EffectiveOf(FactKey.Of(laid.Of))!.Value.CountingData);
        Assert.Equal(withdrawn, works.EffectiveOf(FactKey.Of(laid.Of))!.Value.CorrectedBy);
        Assert.Equal(withdrawn, Assert.Single(works.CorrectionsOf(FactKey.Of(laid.Of))));
    }

    [Fact]
    public void As_of_a_time_it_stands_as_it_stood()
    {
        var works = new MemoryWorks();
        var laid = crew.Records(Facts.DuctLaid("d1"));
        works.Take([laid, crew.Waits(5).Records(Facts.DuctLabelled("d1"))]);

        Assert.Null(works.AsOf(laid.Of.HappenedAt, null).DuctOf("d1")!.Labels);
        Assert.NotNull(works.AsOf(null, null).DuctOf("d1")!.Labels);
    }

    [Property(MaxTest = 300, StartSize = 1, EndSize = 60)]
    public void A_fact_that_is_dropped_was_never_there(PositiveInt size, DoNotSize<int> seed)
    {
        var history = Histories.Make(size.Get, seed.Item);
        var dropped = history[(seed.Item & int.MaxValue) % history.Length];
        MemoryWorks works = new(), without = new();
        works.Take(history);
        without.Take(history.Where(fact => fact != dropped));

        works.Drop(FactKey.Of(dropped.Of));

        Assert.Equal(Told(without), Told(works));
    }

    [Property(MaxTest = 300, StartSize = 1, EndSize = 60)]
    public void What_a_device_recorded_itself_gives_way_to_what_the_service_made_of_it(
        PositiveInt size, DoNotSize<int> seed, DoNotSize<int> arrival)
    {
        var history = Histories.Make(size.Get, seed.Item);
        var dice = new Dice(arrival.Item);
        RecordedFact[] own = [.. history.Where(_ => dice.Is()).Select(fact => fact with
        {
            Of = fact.Of with { HappenedAt = fact.Of.HappenedAt.AddHours(dice.Below(9) - 4), RecordedAt = fact.Of.DeviceTime, Digest = "" },
        })];
        MemoryWorks works = new(), served = new();
        served.Take(history);

        works.Take(own);
        foreach (var batch in Histories.Arrival(history, arrival.Item)) works.Take(batch);

        Assert.Equal(Told(served), Told(works));
    }

    [Fact]
    public void A_fact_that_was_mended_on_the_way_leaves_nothing_of_what_it_said()
    {
        var wrong = crew.Records(Facts.DuctLaid("d1"));
        var mended = wrong with { Of = wrong.Of with { MendedBy = "office", Digest = "other" }, Data = Facts.DuctLaid("d2") };
        var works = new MemoryWorks();

        works.Take([wrong]);
        works.Take([mended]);

        Assert.Null(works.DuctOf("d1"));
        Assert.NotNull(works.DuctOf("d2"));
    }

    private static string Told(MemoryWorks works) => string.Join('\n', works.Things
        .OrderBy(thing => thing.Kind).ThenBy(thing => thing.Id, StringComparer.Ordinal)
        .Select(thing => Written<object>(works.ViewOf(thing)!)));

    private static string Written<T>(T what) => JsonSerializer.Serialize(what, what!.GetType(), WireJson.Lenient);
}
