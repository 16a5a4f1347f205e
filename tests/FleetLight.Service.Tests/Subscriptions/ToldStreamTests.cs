using System.Net;
using System.Net.ServerSentEvents;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Subscriptions;

public sealed class ToldStreamTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task Pages_hold_all_in_order_however_they_are_cut()
    {
        (Organisation organisation, Device device) = await AddAsync();
        for (int number = 1; number <= 7; number++) await device.TellAsync(Some.BoxSealed($"box-{number}", gelFilled: false));
        await service.CaughtUpAsync();
        string[] whole = await AllAsync(organisation, "/v1/stream?limit=1000");

        Assert.True(whole.Length > 21);
        foreach (int limit in (int[])[1, 2, 3, 7]) Assert.Equal(whole, await AllAsync(organisation, $"/v1/stream?limit={limit}"));
    }

    [Fact]
    public async Task What_is_left_out_is_left_out_and_next_goes_past_it()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.SiteOpened("site-1"), Some.SiteOpened("site-2"), Some.BoxSealed(gelFilled: false, site: "site-2"));
        await service.CaughtUpAsync();

        Page<ToldEvent> none = await organisation.Office.ReadAsync<Page<ToldEvent>>("/v1/stream?sites=site-9");
        await device.TellAsync(Some.SiteOpened("site-9"));
        await service.CaughtUpAsync();
        Page<ToldEvent> some = await organisation.Office.ReadAsync<Page<ToldEvent>>($"/v1/stream?sites=site-9&after={none.Next}");

        Assert.Empty(none.Items);
        Assert.Equal(["site-9", "site/site-9"], some.Items.Select(each => each.Subject));
        Page<ToldEvent> boxes = await organisation.Office.ReadAsync<Page<ToldEvent>>("/v1/stream?tell=facts,changes&types=fleetlight.box.sealed.v1&changed=box");
        Assert.Equal(["site-2", $"box/{Some.Box}"], boxes.Items.Select(each => each.Subject));
    }

    [Fact]
    public async Task Who_waits_is_told_at_once_and_resumes_by_Last_Event_ID()
    {
        (Organisation organisation, Device device) = await AddAsync();
        string seen;
        using (HttpResponseMessage answer = await OpenAsync(organisation, "/v1/stream?tell=facts"))
        {
            await using IAsyncEnumerator<SseItem<string>> items = Items(answer);
            await device.TellAsync(Some.SiteOpened("site-1"));
            SseItem<string> first = await NextAsync(items);
            ToldEvent told = JsonSerializer.Deserialize<ToldEvent>(first.Data, WireJson.Lenient)!;
            Assert.Equal(("site-1", told.Cursor), (told.Subject, first.EventId));
            seen = first.EventId!;
        }

        await device.TellAsync(Some.SiteOpened("site-2"));
        using HttpResponseMessage again = await OpenAsync(organisation, "/v1/stream?tell=facts", ("Last-Event-ID", seen));
        await using IAsyncEnumerator<SseItem<string>> rest = Items(again);

        Assert.Contains("site-2", (await NextAsync(rest)).Data, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("an unknown word", "tell=weather")]
    [InlineData("an unknown type", "types=fleetlight.lamp.polished.v1")]
    [InlineData("an unknown change", "changed=lamp")]
    [InlineData("a cursor of elsewhere", "after=12-3")]
    public async Task What_is_not_understood_is_refused(string name, string query)
    {
        (Organisation organisation, _) = await AddAsync();

        Approved.Same("Stream", name, await organisation.Office.GetAsync($"/v1/stream?{query}"));
    }

    private async Task<(Organisation, Device)> AddAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return (organisation, await organisation.AddDeviceAsync());
    }

    private static async Task<string[]> AllAsync(Organisation organisation, string path)
    {
        List<string> all = [];
        string after = "";
        while (true)
        {
            Page<ToldEvent> page = await organisation.Office.ReadAsync<Page<ToldEvent>>($"{path}&after={after}");
            if (page.Items.Count == 0) return [.. all];
            all.AddRange(page.Items.Select(each => $"{each.Cursor} {each.Source} {each.Id} {each.Subject}"));
            after = page.Next!;
        }
    }

    private static async Task<HttpResponseMessage> OpenAsync(Organisation organisation, string path, params (string Name, string Value)[] headers)
    {
        HttpResponseMessage answer = await organisation.Office.StartAsync(HttpMethod.Get, path, null, [("Accept", "text/event-stream"), .. headers]);
        Assert.Equal((HttpStatusCode.OK, "text/event-stream"), (answer.StatusCode, answer.Content.Headers.ContentType?.MediaType));
        return answer;
    }

    private static IAsyncEnumerator<SseItem<string>> Items(HttpResponseMessage answer) =>
        SseParser.Create(answer.Content.ReadAsStream()).EnumerateAsync().GetAsyncEnumerator();

    private static async Task<SseItem<string>> NextAsync(IAsyncEnumerator<SseItem<string>> items)
    {
        while (await items.MoveNextAsync().AsTask().WaitAsync(Eventually.Deadline))
        {
            if (items.Current.EventType == "told") return items.Current;
        }

        throw new InvalidOperationException("The stream ended.");
    }
}
