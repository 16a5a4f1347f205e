using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Intake;

public sealed class ReceiptTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task A_device_that_never_sent_has_nothing_in_hand()
    {
        Device device = await AddDeviceAsync();

        Receipt receipt = await device.ReceiptAsync();

        Assert.Equal((device.Source, 0, 0), (receipt.Source, receipt.CompleteThrough, receipt.Highest));
        Assert.Empty(receipt.Missing);
    }

    [Fact]
    public async Task Numbers_that_did_not_arrive_are_missing_until_they_do()
    {
        Device device = await AddDeviceAsync();
        SentEvent[] all = [.. Enumerable.Range(1, 7).Select(number => device.Record(Some.SiteOpened($"site-{number}")))];

        Receipt gaps = (await device.SendAsync(all[0], all[2], all[6])).Receipt;
        Receipt oneFilled = (await device.SendAsync(all[1])).Receipt;
        Receipt allFilled = (await device.SendAsync(all[5], all[4], all[3])).Receipt;

        Assert.Equal((1, 7), (gaps.CompleteThrough, gaps.Highest));
        Assert.Equal([new NumberRange(2, 2), new NumberRange(4, 6)], gaps.Missing);
        Assert.Equal((3, 7), (oneFilled.CompleteThrough, oneFilled.Highest));
        Assert.Equal([new NumberRange(4, 6)], oneFilled.Missing);
        Assert.Equal((7, 7), (allFilled.CompleteThrough, allFilled.Highest));
        Assert.Empty(allFilled.Missing);
    }

    [Fact]
    public async Task Without_the_first_number_a_device_is_complete_through_nothing()
    {
        Device device = await AddDeviceAsync();
        device.Skip(3);

        Receipt receipt = (await device.TellAsync(Some.SiteOpened())).Receipt;

        Assert.Equal((0, 4), (receipt.CompleteThrough, receipt.Highest));
        Assert.Equal([new NumberRange(1, 3)], receipt.Missing);
    }

    [Fact]
    public async Task A_refused_fact_counts_as_in_hand()
    {
        Device device = await AddDeviceAsync();
        SentEvent good = device.Record(Some.SiteOpened());
        SentEvent bad = device.Record(Some.DuctLaid()).ChangeData(data => data.Remove("ductId"));
        SentEvent alsoGood = device.Record(Some.BoxSealed());

        Receipt receipt = (await device.SendAsync(good, bad, alsoGood)).Receipt;

        Assert.Equal(3, receipt.CompleteThrough);
    }

    [Fact]
    public async Task A_fact_of_another_source_does_not_count_for_this_device()
    {
        Device device = await AddDeviceAsync();
        SentEvent others = device.Record(Some.SiteOpened()).Change(envelope => envelope["source"] = "urn:device:other");

        Receipt receipt = (await device.SendAsync(others)).Receipt;

        Assert.Equal((0, 0), (receipt.CompleteThrough, receipt.Highest));
    }

    [Fact]
    public async Task The_receipt_can_be_asked_for_again()
    {
        Device device = await AddDeviceAsync();
        device.Skip();
        Receipt given = (await device.TellAsync(Some.SiteOpened())).Receipt;

        Assert.Equivalent(given, await device.ReceiptAsync(), strict: true);
    }

    [Fact]
    public async Task Devices_of_one_organisation_have_receipts_of_their_own()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device one = await organisation.AddDeviceAsync();
        Device other = await organisation.AddDeviceAsync();

        await one.TellAsync(Some.SiteOpened());

        Assert.Equal(1, (await one.ReceiptAsync()).CompleteThrough);
        Assert.Equal(0, (await other.ReceiptAsync()).CompleteThrough);
    }

    [Fact]
    public async Task At_most_a_hundred_missing_ranges_are_listed_and_the_highest_is_told_all_the_same()
    {
        Device device = await AddDeviceAsync();
        List<SentEvent> everySecond = [];
        for (int each = 0; each < 150; each++)
        {
            device.Skip();
            everySecond.Add(device.Record(Some.SiteOpened($"site-{each}")));
        }

        Receipt receipt = (await device.SendAsync([.. everySecond])).Receipt;

        Assert.Equal(300, receipt.Highest);
        Assert.Equal(100, receipt.Missing.Count);
        Assert.Equal(new NumberRange(1, 1), receipt.Missing[0]);
        Assert.Equal(new NumberRange(199, 199), receipt.Missing[^1]);
    }

    [Fact]
    public async Task The_greatest_running_number_is_taken()
    {
        Device device = await AddDeviceAsync();
        SentEvent last = device.Record(Some.SiteOpened()).Change(envelope => envelope[Envelope.RunningNumber] = int.MaxValue);

        Receipt receipt = (await device.SendAsync(last)).Receipt;

        Assert.Equal((0, int.MaxValue), (receipt.CompleteThrough, receipt.Highest));
        Assert.Equal([new NumberRange(1, int.MaxValue - 1)], receipt.Missing);
    }

    private async Task<Device> AddDeviceAsync() => await (await service.AddOrganisationAsync()).AddDeviceAsync();
}
