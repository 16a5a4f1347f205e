using System.Net;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Alerts.Webhooks;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Subscriptions;

/// <summary>Whose a subscription is, and what ends it.</summary>
public sealed class OwnerTests(DeliveringService service) : IClassFixture<DeliveringService>
{
    private static readonly string[] ThirdParty = ["read-status", "subscribe"];

    public static TheoryData<string, string> BadRequests => new()
    {
        { "no address", "{}" },
        { "a file", """{"url":"file:///etc/passwd"}""" },
        { "an address inside", """{"url":"http://10.0.0.1/told"}""" },
        { "an unknown kind", """{"url":"http://127.0.0.1:9/","filter":{"tell":["weather"]}}""" },
        { "nothing to tell", """{"url":"http://127.0.0.1:9/","filter":{"tell":[]}}""" },
        { "an unknown type", """{"url":"http://127.0.0.1:9/","filter":{"types":["fleetlight.lamp.polished.v1"]}}""" },
        { "a type of null", """{"url":"http://127.0.0.1:9/","filter":{"types":[null]}}""" },
        { "no site", """{"url":"http://127.0.0.1:9/","filter":{"sites":[]}}""" },
        { "an unknown kind of change", """{"url":"http://127.0.0.1:9/","filter":{"changed":["lamp"]}}""" },
        { "an unknown rule", """{"url":"http://127.0.0.1:9/","filter":{"rules":["lamp-unpolished"]}}""" },
        { "a cursor of elsewhere", """{"url":"http://127.0.0.1:9/","after":"12-3"}""" },
        { "an unknown member", """{"url":"http://127.0.0.1:9/","secret":"mine"}""" },
        { "no JSON", "http://127.0.0.1:9/" },
    };

    [Theory]
    [MemberData(nameof(BadRequests))]
    public async Task No_subscription_is_made_of_a_request_that_is_wrong(string name, string body)
    {
        Organisation organisation = await service.AddOrganisationAsync();

        Approved.Same("Subscriptions", name, await organisation.Office.PostAsync("/v1/subscriptions", body, "application/json"));

        Assert.Empty(await ListAsync(organisation.Office));
    }

    [Fact]
    public async Task A_third_party_sees_and_changes_its_own_only_and_the_office_sees_all()
    {
        await using Subscriber one = await Subscriber.AddAsync(service, scopes: ThirdParty);
        ApiClient other = service.Anybody.With(await one.Organisation.MakeKeyAsync(ThirdParty));
        SubscriptionView ofOffice = (await one.Organisation.Office.PostAsync("/v1/subscriptions", new { url = one.Receiver.Url })).As<SubscriptionView>();

        Assert.True(one.Made.OfKey);
        Assert.False(ofOffice.OfKey);
        Assert.Equal([one.Made.Id], (await ListAsync(one.Api)).Select(each => each.Id));
        Assert.Empty(await ListAsync(other));
        Assert.Equal(2, (await ListAsync(one.Organisation.Office)).Length);
        Assert.All(await ListAsync(one.Organisation.Office), each => Assert.Null(each.Secret));
        foreach (string id in (string[])[one.Made.Id, ofOffice.Id])
        {
            Assert.Equal(HttpStatusCode.NotFound, (await other.GetAsync($"/v1/subscriptions/{id}")).Status);
            Assert.Equal(HttpStatusCode.NotFound, (await other.PostAsync($"/v1/subscriptions/{id}/secret")).Status);
            Assert.Equal(HttpStatusCode.NotFound, (await other.PostAsync($"/v1/subscriptions/{id}/move", new { after = "start" })).Status);
            Assert.Equal(HttpStatusCode.NotFound, (await other.DeleteAsync($"/v1/subscriptions/{id}")).Status);
        }

        Assert.Equal(HttpStatusCode.NoContent, (await one.Api.DeleteAsync(one.Path)).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await one.Api.GetAsync(one.Path)).Status);
    }

    [Fact]
    public async Task It_ends_with_its_key_and_outlives_a_new_key_of_the_same_holder()
    {
        await using Subscriber subscriber = await Subscriber.AddAsync(service, new { tell = (string[])["facts"] }, scopes: ThirdParty);
        string next = (string)(await subscriber.Api.PostAsync("/v1/keys/self/rotate")).Json["key"]!;
        ApiClient renewed = service.Anybody.With(next);
        Assert.Equal([subscriber.Made.Id], (await ListAsync(renewed)).Select(each => each.Id));
        await subscriber.Device.TellAsync(Some.SiteOpened("site-1"));
        await subscriber.Receiver.TookAsync(1);

        (await subscriber.Organisation.Office.DeleteAsync($"/v1/keys/{next.Split('.')[0]}")).Expect(HttpStatusCode.NoContent);
        await subscriber.Device.TellAsync(Some.SiteOpened("site-2"));
        SubscriptionView ended = await Eventually.ReadAsync(
            async () => Assert.Single(await ListAsync(subscriber.Organisation.Office)), shown => shown.Ended, "the subscription to end");

        Assert.Equal("The key that made it has ended.", ended.LastError);
        Assert.Equal("site-1", Assert.Single(subscriber.Told).Subject);
    }

    [Fact]
    public async Task Who_may_not_read_is_told_nothing()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        ApiClient blind = service.Anybody.With(await organisation.MakeKeyAsync("subscribe"));

        Approved.Same("Subscriptions", "may not read", await blind.PostAsync("/v1/subscriptions", new { url = "http://127.0.0.1:9/" }));
    }

    [Fact]
    public async Task A_hundred_are_the_most()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        for (int number = 0; number < 100; number++)
            (await organisation.Office.PostAsync("/v1/subscriptions", new { url = "http://127.0.0.1:9/" })).Expect(HttpStatusCode.Created);

        Approved.Same("Subscriptions", "one too many", await organisation.Office.PostAsync("/v1/subscriptions", new { url = "http://127.0.0.1:9/" }));
    }

    private static async Task<SubscriptionView[]> ListAsync(ApiClient api) =>
        JsonSerializer.Deserialize<SubscriptionView[]>((await api.GetAsync("/v1/subscriptions")).Expect(HttpStatusCode.OK).Body, WireJson.Lenient)!;
}
