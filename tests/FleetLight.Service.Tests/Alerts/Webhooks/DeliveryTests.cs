using FleetLight.Contracts.Views;
using FleetLight.Service.Alerts;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using StandardWebhooks;
using StandardWebhooks.Diagnostics;
using Xunit;

namespace FleetLight.Service.Tests.Alerts.Webhooks;

public sealed class DeliveryTests(DeliveringService service) : IClassFixture<DeliveringService>
{
    [Fact]
    public async Task An_alert_is_told_signed_as_Standard_Webhooks_describes()
    {
        await using Listener listener = await Listener.SubscribeAsync(service);
        await listener.TellAsync(Some.BoxSealed(gelFilled: false));
        await listener.Receiver.TookAsync(1);

        Received told = Assert.Single(listener.Receiver.All);

        new StandardWebhook(listener.Secret).Verify(told.Body, told.Headers);
        Assert.Throws<WebhookVerificationException>(() => new StandardWebhook(listener.Secret).Verify(told.Body + " ", told.Headers));
        Assert.StartsWith("whsec_", listener.Secret, StringComparison.Ordinal);
        Assert.Equal(("POST", "/told", "application/json"), (told.Method, told.Path, told.Headers.ContentType.ToString()));
    }

    [Fact]
    public async Task What_is_told_is_the_alert_as_it_stands()
    {
        await using Listener listener = await Listener.SubscribeAsync(service);
        await listener.TellAsync(Some.BoxSealed(gelFilled: false));
        await listener.Receiver.TookAsync(1);

        Received told = Assert.Single(listener.Receiver.All);

        AlertView alert = (await listener.Office.ReadAsync<Page<AlertView>>("/v1/alerts")).Items.Single();
        Assert.Equal("alert.raised", told.Type);
        Assert.Equal(alert.Id, (string?)told.Json["data"]!["id"]);
        Assert.Equal(alert.Finding.Reason, (string?)told.Json["data"]!["finding"]!["reason"]);
        Assert.NotNull((DateTimeOffset?)told.Json["timestamp"]);
    }

    [Fact]
    public async Task Raising_and_clearing_are_told_once_each_and_an_update_is_not()
    {
        await using Listener listener = await Listener.SubscribeAsync(service);
        await listener.TellAsync(Some.CircuitDesigned(), Some.CablePulled(), Some.Reading(9.8));
        await service.CaughtUpAsync();
        int before = listener.Receiver.All.Count(told => (string?)told.Json["data"]!["finding"]!["rule"] == "reading-outside");

        await listener.TellAsync(Some.Reading(12.4));
        await listener.TellAsync(Some.Reading(12.9));
        await listener.TellAsync(Some.Reading(9.8));
        await listener.TellAsync(Some.Reading(12.4));
        await Eventually.IsSoAsync(() => Of(listener, "reading-outside").Length >= 3, "the alert to be told");
        await Eventually.IsSoAsync(async () => (await listener.DeliveriesAsync("waiting")).Count == 0, "every delivery to be made");

        Assert.Equal(0, before);
        Assert.Equal(
            ["alert.raised", "alert.cleared", "alert.raised"],
            Of(listener, "reading-outside").OrderBy(told => (DateTimeOffset?)told.Json["timestamp"]).Select(told => told.Type));
        Assert.Equal(3, Of(listener, "reading-outside").Select(told => told.Id).Distinct().Count());
    }

    [Fact]
    public async Task Every_webhook_is_told_under_ids_of_its_own()
    {
        await using Listener listener = await Listener.SubscribeAsync(service);
        await using Receiver second = await Receiver.StartAsync();
        await listener.Office.PostAsync("/v1/webhooks", new { url = second.Url });

        await listener.TellAsync(Some.BoxSealed(gelFilled: false));
        await listener.Receiver.TookAsync(1);
        await second.TookAsync(1);

        Assert.NotEqual(listener.Receiver.All.Single().Id, second.All.Single().Id);
    }

    [Fact]
    public async Task Only_the_rules_that_were_asked_for_are_told()
    {
        await using Listener listener = await Listener.SubscribeAsync(service, "fault-open");

        await listener.TellAsync(Some.BoxSealed(gelFilled: false), Some.FaultReported());
        await listener.Receiver.TookAsync(1);

        Assert.Equal("fault-open", (string?)Assert.Single(listener.Receiver.All).Json["data"]!["finding"]!["rule"]);
        Assert.Single(await listener.DeliveriesAsync());
    }

    [Fact]
    public async Task A_webhook_is_told_of_what_comes_and_not_of_what_was()
    {
        await using Listener listener = await Listener.SubscribeAsync(service);
        await listener.TellAsync(Some.BoxSealed("before", gelFilled: false));
        await using Receiver later = await Receiver.StartAsync();
        await listener.Office.PostAsync("/v1/webhooks", new { url = later.Url });

        await listener.TellAsync(Some.BoxSealed("after", gelFilled: false));
        await later.TookAsync(1);

        Assert.Equal("after", Assert.Single(later.All).Subject);
    }

    [Fact]
    public async Task A_webhook_that_was_removed_is_told_nothing_more()
    {
        await using Listener listener = await Listener.SubscribeAsync(service);
        await listener.TellAsync(Some.BoxSealed("before", gelFilled: false));
        await listener.Receiver.TookAsync(1);

        await listener.Office.DeleteAsync($"/v1/webhooks/{listener.Id}");
        await listener.TellAsync(Some.BoxSealed("after", gelFilled: false));

        Assert.Equal("before", Assert.Single(listener.Receiver.All).Subject);
        Assert.Single(await listener.DeliveriesAsync());
    }

    [Fact]
    public async Task Two_nodes_make_each_delivery_once()
    {
        await using Listener listener = await Listener.SubscribeAsync(service);
        await using RunningService second = await service.StartSecondAsync();

        await listener.TellAsync([.. Enumerable.Range(1, 60).Select(number => Some.BoxSealed($"box-{number}", gelFilled: false))]);
        await listener.Receiver.TookAsync(60);
        await Eventually.IsSoAsync(async () => (await listener.DeliveriesAsync("waiting")).Count == 0, "every delivery to be made");

        Assert.Equal(60, listener.Receiver.All.Count);
        Assert.Equal(60, listener.Receiver.All.Select(told => told.Id).Distinct().Count());
    }

    [Fact]
    public async Task Deliveries_are_listed_newest_first_in_pages_with_what_became_of_them()
    {
        await using Listener listener = await Listener.SubscribeAsync(service);
        await listener.TellAsync([.. Enumerable.Range(1, 5).Select(number => Some.BoxSealed($"box-{number}", gelFilled: false))]);
        await listener.Receiver.TookAsync(5);
        await Eventually.IsSoAsync(async () => (await listener.DeliveriesAsync("delivered")).Count == 5, "every delivery to be noted");

        List<Delivery> all = await Pages.AllAsync<Delivery>(listener.Office, $"/v1/webhooks/{listener.Id}/deliveries?limit=2", expectedPages: 3);

        Assert.Equal(listener.Receiver.All.Select(told => told.Id).Order(), all.Select(delivery => delivery.Id).Order());
        Assert.All(all, delivery => Assert.Equal(
            (DeliveryState.Delivered, 1, null, service.Clock.Now), (delivery.State, delivery.Attempts, delivery.LastError, delivery.DeliveredAt)));
        Assert.Empty(await listener.DeliveriesAsync("parked"));
    }

    private static Received[] Of(Listener listener, string rule) =>
        [.. listener.Receiver.All.Where(told => (string?)told.Json["data"]!["finding"]!["rule"] == rule)];
}
