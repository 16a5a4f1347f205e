using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;

namespace FleetLight.Record.Tests.Corrections;

public sealed class EffectiveFactsTests
{
    private readonly Crew crew = new();
    private readonly Crew office = new("office");

    [Fact]
    public void A_fact_without_a_correction_counts_as_it_is()
    {
        var laid = crew.Records(Facts.DuctLaid());

        var fact = Assert.Single(Of(laid).Facts);

        Assert.Equal(new EffectiveFact(laid, laid.Data, null), fact);
    }

    [Fact]
    public void A_withdrawn_fact_counts_no_longer_and_stays_in_its_place()
    {
        var laid = crew.Records(Facts.DuctLaid());
        var withdrawn = office.Waits(1).Records(Facts.Withdrawn(laid));

        var facts = Of(laid, withdrawn).Facts;

        Assert.Equal(new EffectiveFact(laid, null, withdrawn), facts[0]);
        Assert.Equal(withdrawn, facts[1].Original);
    }

    [Fact]
    public void A_replaced_fact_counts_by_the_new_data_at_its_own_time()
    {
        var laid = crew.Records(Facts.DuctLaid(length: 20));
        var label = crew.Records(Facts.DuctLabelled());
        var replaced = office.Waits(5).Records(Facts.Replaced(laid, Facts.DuctLaid(length: 22)));

        var fact = Of(label, replaced, laid).Facts[0];

        Assert.Equal(laid, fact.Original);
        Assert.Equal(22, Assert.IsType<DuctLaid>(fact.CountingData).LengthMetres);
        Assert.Equal(replaced, fact.CorrectedBy);
    }

    [Fact]
    public void Of_several_corrections_the_newest_counts_whatever_arrived_first()
    {
        var laid = crew.Records(Facts.DuctLaid(length: 20));
        var first = office.Waits(1).Records(Facts.Withdrawn(laid));
        var second = office.Records(Facts.Replaced(laid, Facts.DuctLaid(length: 30)));

        Assert.Equal(second, Of(second, laid, first).Facts[0].CorrectedBy);
    }

    [Fact]
    public void A_replacement_of_another_type_counts_for_nothing_and_is_listed()
    {
        var laid = crew.Records(Facts.DuctLaid());
        var wrong = office.Waits(1).Records(Facts.Replaced(laid, Facts.DuctLabelled()));

        var effective = Of(laid, wrong);

        Assert.Equal(laid.Data, effective.Facts[0].CountingData);
        Assert.Contains("office#f1", Assert.Single(effective.Contradictions), StringComparison.Ordinal);
    }

    [Fact]
    public void After_a_correction_that_counts_for_nothing_the_one_before_it_counts()
    {
        var laid = crew.Records(Facts.DuctLaid());
        var withdrawn = office.Waits(1).Records(Facts.Withdrawn(laid));
        var wrong = office.Records(Facts.Replaced(laid, Facts.DuctLaid(length: -4)));

        Assert.Equal(withdrawn, Of(laid, withdrawn, wrong).Facts[0].CorrectedBy);
    }

    [Theory]
    [InlineData("null")]
    [InlineData("[]")]
    [InlineData("{}")]
    [InlineData("\"text\"")]
    [InlineData("""{"siteId":"site-1","ductId":"duct-1","label":"D1","more":1}""")]
    public void A_replacement_that_is_no_such_data_counts_for_nothing(string json)
    {
        var label = crew.Records(Facts.DuctLabelled());
        var wrong = office.Waits(1).Records(
            Facts.Corrected(label, CorrectionAction.Replace, JsonDocument.Parse(json).RootElement));

        Assert.Equal(label.Data, Of(label, wrong).Facts[0].CountingData);
    }

    [Fact]
    public void A_correction_without_its_fact_waits()
    {
        var laid = crew.Records(Facts.DuctLaid());
        var withdrawn = office.Waits(1).Records(Facts.Withdrawn(laid));

        Assert.Contains("crew-a#f1", Assert.Single(Of(withdrawn).Waiting), StringComparison.Ordinal);
    }

    [Fact]
    public void A_correction_of_a_correction_has_no_effect()
    {
        var laid = crew.Records(Facts.DuctLaid());
        var withdrawn = office.Waits(1).Records(Facts.Withdrawn(laid));
        var undone = office.Records(Facts.Withdrawn(withdrawn));

        Assert.Null(Of(laid, withdrawn, undone).Facts[0].CountingData);
    }

    [Fact]
    public void Without_a_source_the_senders_own_fact_is_meant()
    {
        var laid = crew.Records(Facts.DuctLaid());
        var withdrawn = crew.Records(Facts.Withdrawn(laid) with { TargetSource = null });

        Assert.Null(Of(laid, withdrawn).Facts[0].CountingData);
    }

    private static EffectiveFacts Of(params RecordedFact[] facts) =>
        EffectiveFacts.Of(facts.Aggregate(ThingFile.Empty(ThingKind.Duct, Facts.Duct), (file, fact) => file.With(fact)));
}
