using System.Text.Json.Nodes;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Intake;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Intake;

public sealed class IdReuseTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task The_same_id_with_other_content_is_refused_and_set_aside_and_the_first_stays()
    {
        (Organisation organisation, Device device) = await AddAsync();
        SentEvent first = device.Record(Some.SiteOpened(name: "First"));
        await device.SendAsync(first);
        SentEvent second = first.ChangeData(data => data["name"] = "Second");

        BatchReceipt receipt = await device.SendAsync(second);

        Assert.Equal((0, 0, 1), (receipt.Recorded, receipt.Duplicates, receipt.Refused));
        EventOutcome outcome = Assert.Single(receipt.Outcomes);
        Approved.Same("BadFacts", "the id of another fact", outcome.Problem!);
        RefusedFact aside = Assert.Single((await organisation.Office.ReadAsync<Page<RefusedFact>>("/v1/refused")).Items);
        Assert.Equal((outcome.RefusedId, second.Text), (aside.Id, aside.Text));
        await service.CaughtUpAsync();
        Assert.Equal("First", (await organisation.Office.ReadAsync<SiteView>($"/v1/sites/{Some.Site}")).Name);
    }

    [Theory]
    [InlineData("runningnumber", "2")]
    [InlineData("time", "\"2026-03-03T00:00:00Z\"")]
    [InlineData("type", "\"fleetlight.site.opened.v2\"")]
    public async Task Whatever_differs_the_first_stays_alone(string attribute, string value)
    {
        (Organisation organisation, Device device) = await AddAsync();
        SentEvent first = device.Record(Some.SiteOpened());
        await device.SendAsync(first);

        BatchReceipt receipt = await device.SendAsync(first.Change(envelope => envelope[attribute] = JsonNode.Parse(value)));

        Assert.Equal(FactOutcome.Refused, Assert.Single(receipt.Outcomes).Outcome);
        Assert.Single(await service.QueryAsync<string>("select type from fleetlight.mt_events where tenant_id = $1 and data ? 'of'", organisation.Name));
    }

    [Fact]
    public async Task Two_different_facts_of_one_id_in_one_batch_the_first_is_recorded()
    {
        (_, Device device) = await AddAsync();
        SentEvent first = device.Record(Some.SiteOpened());
        SentEvent second = first.ChangeData(data => data["name"] = "Second");

        BatchReceipt receipt = await device.SendAsync(first, second, first);

        Assert.Equal([FactOutcome.Recorded, FactOutcome.Refused, FactOutcome.Duplicate], receipt.Outcomes.Select(each => each.Outcome));
        Assert.Equal(ProblemTypes.IdReused, receipt.Outcomes[1].Problem!.Type);
    }

    [Fact]
    public async Task A_refused_fact_that_is_sent_again_is_set_aside_once()
    {
        (Organisation organisation, Device device) = await AddAsync();
        SentEvent bad = device.Record(Some.DuctLaid()).ChangeData(data => data.Remove("wall"));

        BatchReceipt one = await device.SendAsync(bad);
        BatchReceipt two = await device.SendAsync(bad, bad);

        string id = Assert.Single(one.Outcomes).RefusedId!;
        Assert.Equal([id, id], two.Outcomes.Select(each => each.RefusedId));
        Assert.Single((await organisation.Office.ReadAsync<Page<RefusedFact>>("/v1/refused")).Items);
    }

    private async Task<(Organisation Organisation, Device Device)> AddAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return (organisation, await organisation.AddDeviceAsync());
    }
}
