using System.Text.Json.Nodes;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Microsoft.Extensions.Logging;
using Xunit;

namespace FleetLight.Service.Tests.Intake;

public sealed class RecordingTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task Every_fact_of_a_batch_is_recorded_and_answered_in_its_place()
    {
        Device device = await AddDeviceAsync();

        BatchReceipt receipt = await device.TellAsync(Some.SiteOpened(), Some.DuctLaid(), Some.CablePulled());

        Assert.Equal((3, 0, 0), (receipt.Recorded, receipt.Duplicates, receipt.Refused));
        Assert.Equal([(0, "0001"), (1, "0002"), (2, "0003")], receipt.Outcomes.Select(each => (each.Index, each.Id)));
        Assert.All(receipt.Outcomes, each => Assert.Equal(new EventOutcome { Index = each.Index, Id = each.Id, Outcome = FactOutcome.Recorded }, each));
        Assert.Equal((device.Source, 3, 3), (receipt.Receipt.Source, receipt.Receipt.CompleteThrough, receipt.Receipt.Highest));
        Assert.Empty(receipt.Receipt.Missing);
        Assert.Null(receipt.ClockErrorSeconds);
    }

    [Fact]
    public async Task One_event_can_be_handed_in_by_itself()
    {
        Device device = await AddDeviceAsync();

        BatchReceipt receipt = (await device.PostOneAsync(device.Record(Some.SiteOpened()))).Expect(System.Net.HttpStatusCode.OK).As<BatchReceipt>();

        Assert.Equal((1, 0, 0), (receipt.Recorded, receipt.Duplicates, receipt.Refused));
        Assert.Equal(1, receipt.Receipt.CompleteThrough);
    }

    [Fact]
    public async Task A_fact_is_in_the_store_when_its_receipt_is_given()
    {
        Device device = await AddDeviceAsync();

        await device.TellAsync(Some.SiteOpened("site-kept"));

        Assert.Equal(["fleetlight.site.opened.v1"], await service.QueryAsync<string>(
            "select type from fleetlight.mt_events where data -> 'data' ->> 'siteId' = 'site-kept'"));
    }

    [Fact]
    public async Task The_fact_is_kept_with_its_source_id_number_and_both_times()
    {
        Device device = await AddDeviceAsync();
        DateTimeOffset at = new(2026, 3, 4, 9, 15, 0, TimeSpan.FromHours(2));

        await device.SendAsync(device.Record(Some.SiteOpened("site-origin"), at, id: "the-id"));

        JsonNode of = JsonNode.Parse(Assert.Single(await service.QueryAsync<string>(
            "select data ->> 'of' from fleetlight.mt_events where data -> 'data' ->> 'siteId' = 'site-origin'")))!;
        Assert.Equal(device.Source, (string?)of["source"]);
        Assert.Equal("the-id", (string?)of["id"]);
        Assert.Equal(1, (int?)of["runningNumber"]);
        Assert.Equal(at, (DateTimeOffset?)of["deviceTime"]);
        Assert.Equal(at, (DateTimeOffset?)of["happenedAt"]);
        Assert.Equal(service.Clock.Now, (DateTimeOffset?)of["recordedAt"]);
        Assert.Null(of["timeDoubt"]);
        Assert.Null(of["clockErrorSeconds"]);
        Assert.Null(of["mendedBy"]);
    }

    [Fact]
    public async Task Attributes_that_nobody_knows_are_let_pass_as_CloudEvents_asks()
    {
        Device device = await AddDeviceAsync();
        SentEvent sent = device.Record(Some.SiteOpened()).Change(envelope =>
        {
            envelope["subject"] = "garden";
            envelope["dataschema"] = "https://example.org/site";
            envelope["datacontenttype"] = "application/json; charset=utf-8";
            envelope["someextension"] = "anything";
        });

        BatchReceipt receipt = await device.SendAsync(sent);

        Assert.Equal(FactOutcome.Recorded, Assert.Single(receipt.Outcomes).Outcome);
    }

    [Fact]
    public async Task An_optional_member_may_be_null()
    {
        Device device = await AddDeviceAsync();

        BatchReceipt receipt = await device.SendAsync(device.Record(Some.SiteOpened()).ChangeData(data => data["place"] = null));

        Assert.Equal(FactOutcome.Recorded, Assert.Single(receipt.Outcomes).Outcome);
    }

    [Fact]
    public async Task A_batch_is_one_log_line_with_its_counts()
    {
        Device device = await AddDeviceAsync();
        SentEvent good = device.Record(Some.SiteOpened());
        SentEvent bad = device.Record(Some.DuctLaid()).ChangeData(data => data.Remove("ductId"));

        await device.SendAsync(good, good, bad);

        LogLine line = Assert.Single(service.Log.All, each => each.Text.Contains($"Batch from {device.Source} of ", StringComparison.Ordinal));
        Assert.Equal(LogLevel.Information, line.Level);
        Assert.EndsWith(": 1 recorded, 1 known, 1 refused, complete through 2", line.Text, StringComparison.Ordinal);
    }

    private async Task<Device> AddDeviceAsync() => await (await service.AddOrganisationAsync()).AddDeviceAsync($"urn:device:{Guid.NewGuid()}");
}
