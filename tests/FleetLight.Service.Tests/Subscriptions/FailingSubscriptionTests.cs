using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Views;
using FleetLight.Service.Secrets;
using FleetLight.Service.Subscriptions;
using FleetLight.Service.Tests.Alerts.Webhooks;
using FleetLight.Testing.Service;
using Microsoft.AspNetCore.Http;
using Xunit;

namespace FleetLight.Service.Tests.Subscriptions;

/// <summary>Receivers that do not take what they are told. The clock is put on here, so that signatures are not looked at.</summary>
public sealed class FailingSubscriptionTests(DeliveringService service) : IClassFixture<DeliveringService>
{
    private string spoilt = "";

    [Fact]
    public async Task What_is_not_taken_is_tried_again_and_all_after_it_waits()
    {
        await using Subscriber subscriber = await Subscriber.AddAsync(service, new { tell = Words("facts") });
        subscriber.Receiver.AnswerWith(StatusCodes.Status500InternalServerError);
        await subscriber.Device.TellAsync(Some.SiteOpened("site-1"), Some.SiteOpened("site-2"));
        SubscriptionView failed = await Eventually.ReadAsync(subscriber.ShowAsync, shown => shown.Attempts == 1, "the first attempt");
        string[] tried = [.. subscriber.Receiver.All.Select(received => Subscriber.Event(received).Subject).Distinct()];

        subscriber.Receiver.AnswerWith(StatusCodes.Status204NoContent);
        service.WaitForNextAttempt();
        await subscriber.Receiver.TookAsync(2);
        await subscriber.ToldAllAsync();

        Assert.Equal("The receiver answered 500.", failed.LastError);
        Assert.NotNull(failed.NextAttemptAt);
        Assert.Equal(["site-1"], tried);
        Assert.Equal(["site-1", "site-2"], subscriber.Told.Select(told => told.Subject));
        Assert.Equal(2, subscriber.Receiver.All.Select(received => received.Id).Distinct().Count());
        SubscriptionView shown = await subscriber.ShowAsync();
        Assert.Equal((0, null, true), (shown.Attempts, shown.LastError, shown.ToldAt is not null));
    }

    [Fact]
    public async Task What_is_never_taken_is_parked_and_the_rest_goes_on_until_somebody_has_it_told_again()
    {
        await using Subscriber subscriber = await Subscriber.AddAsync(service, new { tell = Words("facts") });
        subscriber.Receiver.Answer = context => Task.FromResult(
            context.Request.Headers["webhook-id"].ToString() == spoilt ? StatusCodes.Status410Gone : StatusCodes.Status200OK);
        SentEvent first = subscriber.Device.Record(Some.SiteOpened("site-1"));
        spoilt = SubscriptionWorker.MessageOf(
            new Subscription
            {
                Organisation = subscriber.Organisation.Name,
                Id = subscriber.Made.Id,
                Url = "",
                Filter = new StreamFilter(),
                Secrets = new SealedSecrets(null),
                CreatedAt = default,
                Place = StreamPlace.Start,
                DueAt = default,
            },
            new Told(StreamPlace.Start, new ToldEvent
            {
                Id = (string)JsonNode.Parse(first.Text)!["id"]!,
                Source = subscriber.Device.Source,
                Type = "",
                Subject = "",
                Cursor = "",
                Data = default,
            }));
        await subscriber.Device.SendAsync(first, subscriber.Device.Record(Some.SiteOpened("site-2")));
        for (int attempt = 1; attempt <= DeliveringService.Options.MostAttempts; attempt++)
        {
            int tries = attempt;
            await Eventually.IsSoAsync(() => subscriber.Receiver.All.Count(received => received.Id == spoilt) >= tries, $"attempt {attempt}");
            await Eventually.IsSoAsync(async () => (await subscriber.ShowAsync()).Attempts == tries || (await subscriber.ParkedAsync()).Length == 1, "its end");
            service.WaitForNextAttempt();
        }

        await subscriber.Receiver.TookAsync(1);
        ParkedView parked = Assert.Single(await subscriber.ParkedAsync());
        Assert.Equal(
            (spoilt, "fleetlight.site.opened.v1", subscriber.Device.Source, "The receiver answered 410.", false),
            (parked.Id, parked.Type, parked.Source, parked.Error, parked.Again));
        Assert.Equal(["site-2"], subscriber.Told.Select(told => told.Subject));

        string was = spoilt;
        spoilt = "";
        Assert.Equal(HttpStatusCode.NoContent, (await subscriber.Api.PostAsync($"{subscriber.Path}/parked/{parked.Id}/retry")).Status);
        await subscriber.Receiver.TookAsync(2);
        await Eventually.IsSoAsync(async () => (await subscriber.ParkedAsync()).Length == 0, "the parked one to be gone");
        Assert.Equal((was, "site-1"), (subscriber.Receiver.All.Last().Id, subscriber.Told[^1].Subject));
        Assert.Equal(HttpStatusCode.NotFound, (await subscriber.Api.PostAsync($"{subscriber.Path}/parked/{parked.Id}/retry")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await subscriber.Api.DeleteAsync($"{subscriber.Path}/parked/{parked.Id}")).Status);
    }

    private static string[] Words(params string[] words) => words;
}
