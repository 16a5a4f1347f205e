using System.Net;
using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Alerts;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Alerts.Webhooks;

public sealed class WebhookTests(FleetService service) : IClassFixture<FleetService>
{
    public static TheoryData<string, string> BadRequests => new()
    {
        { "no address", "{}" },
        { "an empty address", """{"url":""}""" },
        { "an address of null", """{"url":null}""" },
        { "an address without a scheme", """{"url":"example.org/told"}""" },
        { "a file", """{"url":"file:///etc/passwd"}""" },
        { "an address of 501 characters", $$"""{"url":"https://example.org/{{new string('x', 481)}}"}""" },
        { "an unknown rule", """{"url":"https://example.org/told","rules":["lamp-unpolished"]}""" },
        { "a rule of null", """{"url":"https://example.org/told","rules":[null]}""" },
        { "an unknown member", """{"url":"https://example.org/told","secret":"mine"}""" },
        { "no JSON", "https://example.org/told" },
    };

    [Fact]
    public async Task A_webhook_is_made_listed_without_its_secret_and_removed()
    {
        Organisation organisation = await service.AddOrganisationAsync();

        WebhookView made = (await organisation.Office.PostAsync("/v1/webhooks", new { url = "https://example.org/told", rules = Rules("fault-open") }))
            .Expect(HttpStatusCode.Created).As<WebhookView>();
        WebhookView listed = Assert.Single(await ListAsync(organisation));

        Assert.Equal(("https://example.org/told", service.Clock.Now), (made.Url, made.CreatedAt));
        Assert.Equal(["fault-open"], made.Rules!);
        Assert.Equal(32, Convert.FromBase64String(made.Secret!["whsec_".Length..]).Length);
        Assert.Equivalent(made with { Secret = null }, listed, strict: true);
        Assert.Equal(HttpStatusCode.NoContent, (await organisation.Office.DeleteAsync($"/v1/webhooks/{made.Id}")).Status);
        Assert.Empty(await ListAsync(organisation));
        Assert.Equal(HttpStatusCode.NotFound, (await organisation.Office.DeleteAsync($"/v1/webhooks/{made.Id}")).Status);
    }

    [Theory]
    [MemberData(nameof(BadRequests))]
    public async Task No_webhook_is_made_of_a_request_that_is_wrong(string name, string body)
    {
        Organisation organisation = await service.AddOrganisationAsync();

        Approved.Same("Webhooks", name, await organisation.Office.PostAsync("/v1/webhooks", body, "application/json"));

        Assert.Empty(await ListAsync(organisation));
    }

    private static string[] Rules(params string[] rules) => rules;

    private static async Task<WebhookView[]> ListAsync(Organisation organisation) =>
        JsonSerializer.Deserialize<WebhookView[]>((await organisation.Office.GetAsync("/v1/webhooks")).Body, WireJson.Lenient)!;
}
