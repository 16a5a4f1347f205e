using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Intake;

public sealed class DuplicateTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task A_batch_that_is_sent_again_is_known_and_changes_nothing()
    {
        (Organisation organisation, Device device) = await AddAsync();
        SentEvent[] batch = device.Record(Some.SiteOpened(), Some.DuctLaid(), Some.CablePulled());
        BatchReceipt first = await device.SendAsync(batch);

        BatchReceipt again = await device.SendAsync(batch);

        Assert.Equal((0, 3, 0), (again.Recorded, again.Duplicates, again.Refused));
        Assert.All(again.Outcomes, each => Assert.Equal(FactOutcome.Duplicate, each.Outcome));
        Assert.Equivalent(first.Receipt, again.Receipt, strict: true);
        Assert.Equal(3, await CountAsync(organisation));
    }

    [Fact]
    public async Task A_fact_twice_in_one_batch_is_recorded_once()
    {
        (Organisation organisation, Device device) = await AddAsync();
        SentEvent fact = device.Record(Some.SiteOpened());

        BatchReceipt receipt = await device.SendAsync(fact, fact, fact);

        Assert.Equal([FactOutcome.Recorded, FactOutcome.Duplicate, FactOutcome.Duplicate], receipt.Outcomes.Select(each => each.Outcome));
        Assert.Equal((1, 2, 0), (receipt.Recorded, receipt.Duplicates, receipt.Refused));
        Assert.Equal(1, await CountAsync(organisation));
    }

    [Fact]
    public async Task A_batch_that_overlaps_an_earlier_one_records_only_what_is_new()
    {
        (Organisation organisation, Device device) = await AddAsync();
        SentEvent[] all = device.Record(Some.SiteOpened(), Some.DuctLaid(), Some.CablePulled(), Some.BoxSealed());
        await device.SendAsync(all[..3]);

        BatchReceipt receipt = await device.SendAsync(all[1..]);

        Assert.Equal([FactOutcome.Duplicate, FactOutcome.Duplicate, FactOutcome.Recorded], receipt.Outcomes.Select(each => each.Outcome));
        Assert.Equal(4, await CountAsync(organisation));
    }

    [Fact]
    public async Task The_same_fact_written_differently_is_the_same_fact()
    {
        (Organisation organisation, Device device) = await AddAsync();
        SentEvent fact = device.Record(Some.DuctLaid(), new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));
        await device.SendAsync(fact);
        SentEvent rewritten = fact.Change(envelope =>
        {
            // The same instant, the same number, the same members in another order.
            envelope["time"] = "2026-03-02T10:00:00.000+02:00";
            var data = envelope["data"]!.AsObject();
            var siteId = data["siteId"]!.DeepClone();
            data.Remove("siteId");
            data["siteId"] = siteId;
            envelope["somethingelse"] = 1;
        }).Replace("\"lengthMetres\":24", "\"lengthMetres\" : 2.4e1");

        BatchReceipt receipt = await device.SendAsync(rewritten);

        Assert.Equal(FactOutcome.Duplicate, Assert.Single(receipt.Outcomes).Outcome);
        Assert.Equal(1, await CountAsync(organisation));
    }

    [Fact]
    public async Task The_same_id_from_another_device_is_another_fact()
    {
        (Organisation organisation, Device one) = await AddAsync();
        Device other = await organisation.AddDeviceAsync();
        await one.SendAsync(one.Record(Some.SiteOpened(), id: "same"));

        BatchReceipt receipt = await other.SendAsync(other.Record(Some.SiteOpened(), id: "same"));

        Assert.Equal(FactOutcome.Recorded, Assert.Single(receipt.Outcomes).Outcome);
        Assert.Equal(2, await CountAsync(organisation));
    }

    [Fact]
    public async Task The_same_source_and_id_in_another_organisation_is_another_fact()
    {
        (_, Device here) = await AddAsync();
        (Organisation elsewhere, Device there) = await AddAsync();
        Assert.Equal(here.Source, there.Source);
        await here.SendAsync(here.Record(Some.SiteOpened(), id: "same"));

        BatchReceipt receipt = await there.SendAsync(there.Record(Some.SiteOpened(name: "Another garden"), id: "same"));

        Assert.Equal(FactOutcome.Recorded, Assert.Single(receipt.Outcomes).Outcome);
        Assert.Equal(1, await CountAsync(elsewhere));
    }

    private async Task<(Organisation Organisation, Device Device)> AddAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return (organisation, await organisation.AddDeviceAsync());
    }

    private async Task<long> CountAsync(Organisation organisation) => Assert.Single(await service.QueryAsync<long>(
        "select count(*) from fleetlight.mt_events where tenant_id = $1 and data ? 'of'", organisation.Name));
}
