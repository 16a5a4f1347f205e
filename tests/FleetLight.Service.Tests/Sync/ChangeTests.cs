using System.Net;
using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Sync;

public sealed class ChangeTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task What_changed_is_named_with_its_kind_id_and_site()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.SiteOpened(), Some.DuctLaid(), Some.BoxSealed(gelFilled: false), Some.CablePulled(), Some.CircuitDesigned());
        await service.CaughtUpAsync();

        Page<ChangeView> page = await organisation.Office.ReadAsync<Page<ChangeView>>("/v1/changes");

        Assert.Equal(
            ["box box-1", "cable cable-1", "circuit circuit-1", "duct duct-1", "site site-1"],
            page.Items.Where(change => change.Kind != "alert").Select(change => $"{change.Kind} {change.Id}").Distinct().Order());
        Assert.Contains(page.Items, change => change.Kind == "alert");
        Assert.All(page.Items, change => Assert.Equal(Some.Site, change.SiteId));
    }

    [Fact]
    public async Task Following_the_cursor_meets_every_change_once_and_in_order()
    {
        (Organisation organisation, Device device) = await AddAsync();
        for (int round = 0; round < 3; round++)
        {
            await device.TellAsync([.. Enumerable.Range(0, 5).Select(number => Some.SiteOpened($"site-{number}", $"Round {round}"))]);
            await service.CaughtUpAsync();
        }

        string[] whole = [.. (await organisation.Office.ReadAsync<Page<ChangeView>>("/v1/changes?limit=1000")).Items.Select(Text)];
        List<string> followed = [];
        string next = "/v1/changes?limit=4";
        while (followed.Count < whole.Length)
        {
            Answer answer = (await organisation.Office.GetAsync(next)).Expect(HttpStatusCode.OK);
            followed.AddRange(answer.As<Page<ChangeView>>().Items.Select(Text));
            next = Pages.NextOf(answer)!;
        }

        Assert.Equal(15, whole.Length);
        Assert.Equal(whole, followed);
        Assert.Equal(15, whole.Distinct().Count());
    }

    [Fact]
    public async Task At_the_end_the_cursor_waits_for_what_comes()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.SiteOpened());
        await service.CaughtUpAsync();
        Answer last = await organisation.Office.GetAsync("/v1/changes");
        Answer end = await organisation.Office.GetAsync(Pages.NextOf(last)!);

        await device.TellAsync(Some.BoxSealed());
        await service.CaughtUpAsync();
        Answer after = await organisation.Office.GetAsync(Pages.NextOf(end)!);

        Assert.Empty(end.As<Page<ChangeView>>().Items);
        Assert.Equal("box", Assert.Single(after.As<Page<ChangeView>>().Items).Kind);
    }

    [Fact]
    public async Task From_now_on_is_from_now_on()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.SiteOpened());
        await service.CaughtUpAsync();
        Answer now = await organisation.Office.GetAsync("/v1/changes?after=now");
        Assert.Empty(now.As<Page<ChangeView>>().Items);

        await device.TellAsync(Some.BoxSealed());
        await service.CaughtUpAsync();
        Answer after = await organisation.Office.GetAsync(Pages.NextOf(now)!);

        Assert.Equal("box", Assert.Single(after.As<Page<ChangeView>>().Items).Kind);
    }

    [Fact]
    public async Task From_now_on_names_a_place_and_not_a_word_that_moves()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.SiteOpened());
        await service.CaughtUpAsync();

        Answer now = await organisation.Office.GetAsync("/v1/changes?after=now");

        Assert.NotEqual("now", now.As<Page<ChangeView>>().Next);
    }

    [Fact]
    public async Task A_fact_that_changes_no_state_is_no_change()
    {
        (Organisation organisation, Device device) = await AddAsync();
        SentEvent fact = device.Record(Some.SiteOpened());
        await device.SendAsync(fact);
        await service.CaughtUpAsync();
        int before = (await organisation.Office.ReadAsync<Page<ChangeView>>("/v1/changes")).Items.Count;

        await device.SendAsync(fact);
        await service.CaughtUpAsync();

        Assert.Equal(before, (await organisation.Office.ReadAsync<Page<ChangeView>>("/v1/changes")).Items.Count);
    }

    [Fact]
    public async Task An_organisation_without_a_change_has_an_empty_feed()
    {
        (Organisation organisation, _) = await AddAsync();

        Page<ChangeView> page = await organisation.Office.ReadAsync<Page<ChangeView>>("/v1/changes");

        Assert.Empty(page.Items);
        Assert.NotNull(page.Next);
        Assert.Empty((await organisation.Office.ReadAsync<Page<ChangeView>>($"/v1/changes?after={page.Next}")).Items);
    }

    [Theory]
    [InlineData("after=yesterday")]
    [InlineData("after=5")]
    [InlineData("after=1-2-3")]
    [InlineData("after=-1-0")]
    [InlineData("after=99999999999999999999-0")]
    public async Task A_cursor_that_was_never_given_out_is_said_so(string query)
    {
        (Organisation organisation, _) = await AddAsync();

        Approved.Same("Changes", "an unknown cursor", await organisation.Office.GetAsync($"/v1/changes?{query}"));
    }

    private static string Text(ChangeView change) => $"{change.Cursor} {change.Kind} {change.Id}";

    private async Task<(Organisation Organisation, Device Device)> AddAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return (organisation, await organisation.AddDeviceAsync());
    }
}
