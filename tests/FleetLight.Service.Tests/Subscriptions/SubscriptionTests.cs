using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Subscriptions;
using FleetLight.Service.Tests.Alerts.Webhooks;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using StandardWebhooks;
using Xunit;

namespace FleetLight.Service.Tests.Subscriptions;

public sealed class SubscriptionTests(DeliveringService service) : IClassFixture<DeliveringService>
{
    [Fact]
    public async Task A_fact_is_told_as_the_event_that_its_device_handed_in_signed()
    {
        await using Subscriber subscriber = await Subscriber.AddAsync(service, new { tell = Words("facts") });
        SentEvent sent = subscriber.Device.Record(Some.SiteOpened(name: "Walled garden"));
        await subscriber.Device.SendAsync(sent);
        await subscriber.Receiver.TookAsync(1);

        Received received = Assert.Single(subscriber.Receiver.All);

        new StandardWebhook(subscriber.Made.Secret!).Verify(received.Body, received.Headers);
        Assert.Equal("application/cloudevents+json", received.Headers.ContentType.ToString());
        JsonObject told = received.Json.AsObject(), was = JsonNode.Parse(sent.Text)!.AsObject();
        foreach (string name in (string[])["specversion", "id", "source", "type", "runningnumber"])
            Assert.True(JsonNode.DeepEquals(was[name], told[name]), name);
        Assert.Equal((DateTimeOffset)was["time"]!, (DateTimeOffset)told["time"]!);
        Assert.True(JsonNode.DeepEquals(was["data"], told["data"]), $"{was["data"]} {told["data"]}");
        Assert.Equal(Some.Site, (string?)told["subject"]);
        // CloudEvents 1.0, 3.1 (attribute names): small letters and figures only.
        Assert.All(told, member => Assert.Matches("^[a-z0-9]{1,20}$", member.Key));
    }

    [Fact]
    public async Task All_is_told_in_order_each_once_facts_before_what_follows_from_them()
    {
        await using Subscriber subscriber = await Subscriber.AddAsync(service);
        for (int number = 1; number <= 20; number++) await subscriber.Device.TellAsync(Some.BoxSealed($"box-{number}", gelFilled: false));
        await subscriber.ToldAllAsync();

        ToldEvent[] told = subscriber.Told;

        string[] cursors = [.. told.Select(each => each.Cursor)];
        Assert.Equal(cursors.Select(Place).Order(), cursors.Select(Place));
        Assert.Equal(cursors.Length, cursors.Distinct().Count());
        Assert.Equal(Enumerable.Range(1, 20), told.Where(each => each.Runningnumber is not null).Select(each => each.Runningnumber!.Value));
        Assert.Equal(20, told.Count(each => each.Type == "fleetlight.alert.raised.v1"));
        for (int number = 1; number <= 20; number++)
        {
            int fact = Array.FindIndex(told, each => each.Runningnumber == number);
            int change = Array.FindIndex(told, each => each.Subject == $"box/box-{number}");
            int alert = Array.FindIndex(told, each => each.Type == "fleetlight.alert.raised.v1" && each.Data.GetRawText().Contains($"\"box-{number}\"", StringComparison.Ordinal));
            Assert.True(fact >= 0 && fact < change && change < alert, $"{number}: {fact} {change} {alert}");
        }
    }

    [Fact]
    public async Task An_alert_is_told_as_it_stood_then()
    {
        await using Subscriber subscriber = await Subscriber.AddAsync(service, new { tell = Words("alerts"), rules = Words("ground-box-not-gel-filled") });
        await subscriber.Device.TellAsync(Some.SiteOpened(), Some.BoxSealed(gelFilled: false));
        await subscriber.Receiver.TookAsync(1);
        await subscriber.Device.TellAsync(Some.BoxSealed());
        await subscriber.Receiver.TookAsync(2);
        await subscriber.ToldAllAsync();
        (await subscriber.Api.PostAsync($"{subscriber.Path}/move", new { after = "start" })).Expect(HttpStatusCode.OK);
        await subscriber.Receiver.TookAsync(4);

        Assert.Equal(
            ["fleetlight.alert.raised.v1", "fleetlight.alert.cleared.v1", "fleetlight.alert.raised.v1", "fleetlight.alert.cleared.v1"],
            subscriber.Told.Select(told => told.Type));
        AlertView[] alerts = [.. subscriber.Told.Select(told => told.Data.Deserialize<AlertView>(WireJson.Lenient)!)];
        Assert.Equal([AlertStanding.Raised, AlertStanding.Cleared, AlertStanding.Raised, AlertStanding.Cleared], alerts.Select(alert => alert.Standing));
        Assert.Equal([alerts[0].Id, alerts[0].Id], subscriber.Told.Take(2).Select(told => told.Subject));
    }

    [Fact]
    public async Task Only_what_was_chosen_is_told()
    {
        await using Subscriber subscriber = await Subscriber.AddAsync(
            service, new { tell = Words("facts", "changes"), types = Words("fleetlight.duct.laid.v1"), sites = Words("site-2"), changed = Words("duct") });
        await subscriber.Device.TellAsync(
            Some.SiteOpened("site-1"), Some.SiteOpened("site-2"), Some.DuctLaid("duct-1", "site-1"), Some.DuctLaid("duct-2", "site-2"),
            Some.BoxSealed("box-2", gelFilled: false, site: "site-2"));
        await subscriber.ToldAllAsync();

        Assert.Equal(["site-2", "duct/duct-2"], subscriber.Told.Select(told => told.Subject));
        Assert.Equal("fleetlight.duct.laid.v1", subscriber.Told[0].Type);
    }

    [Fact]
    public async Task What_is_told_again_comes_under_the_same_ids_and_from_that_place_on()
    {
        await using Subscriber subscriber = await Subscriber.AddAsync(service, new { tell = Words("facts") });
        await subscriber.Device.TellAsync(Some.SiteOpened("site-1"), Some.SiteOpened("site-2"), Some.SiteOpened("site-3"));
        await subscriber.ToldAllAsync();

        (await subscriber.Api.PostAsync($"{subscriber.Path}/move", new { after = subscriber.Told[0].Cursor })).Expect(HttpStatusCode.OK);
        await subscriber.Receiver.TookAsync(5);

        string[] ids = [.. subscriber.Receiver.All.Select(received => received.Id)];
        Assert.Equal([ids[0], ids[1], ids[2], ids[1], ids[2]], ids);
        Assert.Equal(3, ids.Distinct().Count());
    }

    [Fact]
    public async Task A_subscription_from_the_start_is_told_what_was_there_before()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened("site-1"), Some.SiteOpened("site-2"));
        await service.CaughtUpAsync();
        await using Receiver early = await Receiver.StartAsync();
        await using Receiver late = await Receiver.StartAsync();
        await organisation.Office.PostAsync("/v1/subscriptions", new { url = early.Url, after = "start", filter = new { tell = Words("facts") } });
        await organisation.Office.PostAsync("/v1/subscriptions", new { url = late.Url, filter = new { tell = Words("facts") } });
        await early.TookAsync(2);

        await device.TellAsync(Some.SiteOpened("site-3"));
        await early.TookAsync(3);
        await late.TookAsync(1);

        Assert.Equal(["site-1", "site-2", "site-3"], early.All.Select(received => Subscriber.Event(received).Subject));
        Assert.Equal(["site-3"], late.All.Select(received => Subscriber.Event(received).Subject));
    }

    [Fact]
    public async Task A_restart_goes_on_where_it_was_and_doubles_nothing_that_was_taken()
    {
        await using Subscriber subscriber = await Subscriber.AddAsync(service, new { tell = Words("facts") });
        await subscriber.Device.TellAsync(Some.SiteOpened("site-1"), Some.SiteOpened("site-2"));
        await subscriber.ToldAllAsync();

        await service.RestartAsync();
        Device device = new(service.Anybody.With(subscriber.Device.Api.Key), subscriber.Device.Source);
        device.Skip(2);
        await device.TellAsync(Some.SiteOpened("site-3"));
        await subscriber.Receiver.TookAsync(3);

        Assert.Equal(["site-1", "site-2", "site-3"], subscriber.Told.Select(told => told.Subject));
    }

    [Fact]
    public async Task Two_nodes_tell_everything_once_and_in_order()
    {
        await using RunningService second = await service.StartSecondAsync();
        await using Subscriber subscriber = await Subscriber.AddAsync(service, new { tell = Words("facts") });
        for (int number = 1; number <= 30; number++) await subscriber.Device.TellAsync(Some.SiteOpened($"site-{number}"));
        await subscriber.ToldAllAsync();

        Assert.Equal(Enumerable.Range(1, 30), subscriber.Told.Select(told => told.Runningnumber!.Value));
    }

    [Fact]
    public async Task A_rebuild_of_the_states_tells_nothing_again()
    {
        await using Subscriber subscriber = await Subscriber.AddAsync(service);
        await subscriber.Device.TellAsync(Some.SiteOpened(), Some.BoxSealed(gelFilled: false));
        await subscriber.ToldAllAsync();
        int before = subscriber.Told.Length;

        Assert.Equal(0, await Service.Rebuilding.RebuildCommand.RunAsync([$"--ConnectionStrings:FleetLight={service.ConnectionString}"]));
        await subscriber.Device.TellAsync(Some.SiteOpened("another"));
        await subscriber.ToldAllAsync();

        Assert.Equal(["another", "site/another"], subscriber.Told.Skip(before).Select(told => told.Subject));
    }

    private static StreamPlace Place(string cursor)
    {
        Assert.True(StreamPlace.TryParse(cursor, out StreamPlace place));
        return place;
    }

    private static string[] Words(params string[] words) => words;
}
