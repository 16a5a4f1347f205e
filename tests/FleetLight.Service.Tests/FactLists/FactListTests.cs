using System.Net;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Service.Tests.Works;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.FactLists;

/// <summary>Facts as they were recorded, listed and followed.</summary>
public sealed class FactListTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task A_fact_is_listed_with_all_that_was_recorded_of_it()
    {
        Site site = await OpenAsync();
        DateTimeOffset at = service.Clock.Now.AddDays(-2);
        DuctLaid laid = Some.DuctLaid();
        await site.Device.SendAsync(service.Clock.Now.AddMinutes(30), site.Device.Record(laid, at));
        await service.CaughtUpAsync();

        FactView fact = Assert.Single((await ListAsync(site, "")).Items);

        Assert.Equal($"{site.Device.Source}#0001", fact.Fact);
        Assert.Equal((site.Device.Source, "0001", 1), (fact.Source, fact.Id, fact.RunningNumber));
        Assert.Equal(("fleetlight.duct.laid.v1", 1, Some.Site), (fact.Type, fact.SchemaVersion, fact.SiteId));
        Assert.Equal(at, fact.DeviceTime);
        Assert.Equal(at.AddMinutes(-30), fact.HappenedAt);
        Assert.Equal(1800, fact.ClockErrorSeconds);
        Assert.Equal(TimeDoubt.ClockCorrected, fact.TimeDoubt);
        Assert.Equal(service.Clock.Now, fact.RecordedAt);
        Assert.Equal([new ThingRef(ThingKind.Duct, Some.Duct)], fact.Things);
        Assert.Equal(24, fact.Data.GetProperty("lengthMetres").GetDouble());
        Assert.Equal((FactStanding.Counts, null, null), (fact.Standing, fact.CorrectedBy, fact.Corrects));
    }

    [Fact]
    public async Task Filters_leave_out_what_is_not_asked_for()
    {
        Site site = await OpenAsync();
        Device other = await site.Organisation.AddDeviceAsync();
        await site.TellAsync(
            Some.SiteOpened(), Some.DuctLaid(), Some.CablePulled(), Some.CircuitDesigned(), Some.Reading(), Some.SiteOpened("site-2"));
        await other.TellAsync(Some.Reading(9.2));
        await service.CaughtUpAsync();

        Assert.Equal([1, 1, 2, 3, 4, 5, 6], await NumbersAsync(site, ""));
        Assert.Equal([1, 1, 2, 3, 4, 5], await NumbersAsync(site, "site=site-1"));
        Assert.Equal([6], await NumbersAsync(site, "site=site-2"));
        Assert.Equal([2, 3], await NumbersAsync(site, "kind=duct&thing=duct-1"));
        Assert.Equal([1, 3, 4, 5], await NumbersAsync(site, "kind=circuit&thing=circuit-1"));
        Assert.Equal([3], await NumbersAsync(site, "kind=cable&thing=cable-1"));
        Assert.Equal([6], await NumbersAsync(site, "kind=site&thing=site-2"));
        Assert.Empty(await NumbersAsync(site, "kind=box&thing=duct-1"));
        Assert.Equal([1, 5], await NumbersAsync(site, "type=fleetlight.reading.taken.v1"));
        Assert.Equal([1], await NumbersAsync(site, $"source={Uri.EscapeDataString(other.Source)}"));
        Assert.Equal([3, 4], await NumbersAsync(site, $"happenedFrom={Time(3)}&happenedTo={Time(5)}"));
        Assert.Equal([3, 4], await NumbersAsync(site, $"order=recorded&happenedFrom={Time(3)}&happenedTo={Time(5)}"));
        Assert.Empty(await NumbersAsync(site, "site=nowhere"));

        static string Time(int minute) => Uri.EscapeDataString(Device.Began.AddMinutes(minute).ToString("O"));
    }

    [Theory]
    [InlineData("happened")]
    [InlineData("recorded")]
    public async Task Pages_follow_one_another(string order)
    {
        Site site = await OpenAsync();
        await site.TellAsync([.. Enumerable.Range(1, 7).Select(number => Some.Reading(number))]);

        List<double> values = [];
        FactPage page = await ListAsync(site, $"order={order}&limit=3");
        for (; ; page = await ListAsync(site, $"order={order}&limit=3&cursor={page.Next}"))
        {
            values.AddRange(page.Items.Select(fact => fact.Data.GetProperty("value").GetDouble()));
            if (!page.More) break;
        }

        if (order == "recorded") values.Sort();
        Assert.Equal([1, 2, 3, 4, 5, 6, 7], values);
        Assert.Equal(order == "recorded", page.Next is not null);
        Answer answer = await site.Organisation.Office.GetAsync($"/v1/facts?order={order}&limit=3");
        Assert.Contains("rel=\"next\"", string.Join(" ", answer.Headers.GetValues("Link")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Whoever_asks_again_days_later_gets_what_is_new_with_corrections_of_the_sites_facts()
    {
        Site site = await OpenAsync();
        DuctLaid laid = Some.DuctLaid();
        await site.TellAsync(Some.SiteOpened(), laid);
        FactPage first = await ListAsync(site, "site=site-1&order=recorded");
        Assert.Equal((2, false, false), (first.Items.Count, first.More, first.StartsOver));
        FactPage nothing = await ListAsync(site, $"site=site-1&order=recorded&cursor={first.Next}");
        Assert.Empty(nothing.Items);

        // The office corrects from another site's page, and somebody works elsewhere.
        Device office = await site.Organisation.AddDeviceAsync();
        FactCorrected correction = Correct.Replace("0002", laid with { LengthMetres = 30 }) with { SiteId = "office", TargetSource = site.Device.Source };
        await office.TellAsync(correction, Some.SiteOpened("site-2"));
        await site.TellAsync(Some.DuctPlugged(RunEnd.Near));
        FactPage later = await ListAsync(site, $"site=site-1&order=recorded&cursor={nothing.Next}");

        Assert.Equal(["fleetlight.duct.plugged.v1", "fleetlight.fact.corrected.v1"], later.Items.Select(fact => fact.Type).Order());
        FactView corrected = (await ListAsync(site, "site=site-1&type=fleetlight.duct.laid.v1")).Items.Single();
        Assert.Equal(FactStanding.Replaced, corrected.Standing);
        Assert.Equal(24, corrected.Data.GetProperty("lengthMetres").GetDouble());
        Assert.Equal(30, corrected.CorrectedBy!.Data!.Value.GetProperty("lengthMetres").GetDouble());
        Assert.Equal(($"{office.Source}#0001", correction.Reason), (corrected.CorrectedBy.Fact, corrected.CorrectedBy.Reason));
        FactView by = later.Items.Single(fact => fact.Corrects is not null);
        Assert.Equal((FactStanding.Counts, corrected.Fact), (by.Standing, by.Corrects));
    }

    [Fact]
    public async Task What_is_left_of_a_fact_and_its_corrections_is_said()
    {
        Site site = await OpenAsync();
        ReadingTaken reading = Some.Reading();
        await site.TellAsync(
            Correct.Withdraw("0003", reading), Correct.Withdraw("0009", reading), reading, Correct.Replace("0003", reading with { Value = 9 }));

        FactStanding[] standings = [.. (await ListAsync(site, "")).Items.Select(fact => fact.Standing)];

        Assert.Equal([FactStanding.Overruled, FactStanding.Waiting, FactStanding.Replaced, FactStanding.Counts], standings);
        await site.TellAsync(Correct.Withdraw("0003", reading));
        Assert.Equal(FactStanding.Withdrawn, (await ListAsync(site, "kind=circuit&thing=circuit-1")).Items.Single(fact => fact.Id == "0003").Standing);
    }

    [Fact]
    public async Task A_fact_that_is_moved_to_another_site_comes_into_its_list_with_the_correction()
    {
        Site site = await OpenAsync();
        DuctLaid laid = Some.DuctLaid();
        await site.TellAsync(laid, Some.DuctLaid("duct-9", "site-2"));
        FactPage before = await ListAsync(site, "site=site-2&order=recorded");

        await site.TellAsync(Correct.Replace("0001", Some.DuctLaid("duct-2", "site-2")));
        FactPage after = await ListAsync(site, $"site=site-2&order=recorded&cursor={before.Next}");

        Assert.Equal([1, 3], after.Items.Select(fact => fact.RunningNumber).Order());
    }

    [Fact]
    public async Task A_thing_that_comes_to_a_site_brings_its_history()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.CablePulled(site: "elsewhere"), Some.Reading(site: "elsewhere"), Some.Reading(9.2, site: "elsewhere"));
        FactPage before = await ListAsync(site, "site=site-1&order=recorded");
        Assert.Empty(before.Items);

        await site.TellAsync(Some.CircuitDesigned());
        FactPage after = await ListAsync(site, $"site=site-1&order=recorded&cursor={before.Next}");

        Assert.Equal([1, 2, 3, 4], after.Items.Select(fact => fact.RunningNumber).Order());
    }

    [Theory]
    [InlineData("kind=duct", "thing")]
    [InlineData("thing=d1", "kind")]
    [InlineData("kind=tree&thing=d1", "kind")]
    [InlineData("type=fleetlight.duct.laid.v9", "type")]
    [InlineData("order=sideways", "order")]
    [InlineData("happenedFrom=yesterday", "happenedFrom")]
    [InlineData("happenedTo=tomorrow", "happenedTo")]
    [InlineData("cursor=here", "cursor")]
    [InlineData("order=recorded&cursor=h_1_2_00000000000000000000000000000000", "cursor")]
    [InlineData("limit=0", "limit")]
    public async Task What_is_not_understood_is_named(string query, string field)
    {
        Site site = await OpenAsync();

        Answer answer = await site.Organisation.Office.GetAsync($"/v1/facts?{query}");

        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Assert.Equal(field, answer.As<Problem>().Field);
    }

    [Fact]
    public async Task A_cursor_of_lists_that_were_built_again_since_starts_over()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.DuctLaid());
        FactPage page = await ListAsync(site, "order=recorded");
        string[] parts = page.Next!.Split('_');

        FactPage again = await ListAsync(site, $"order=recorded&cursor={parts[0]}_7_{parts[2]}_{parts[3]}");

        Assert.Equal((1, true, page.Next), (again.Items.Count, again.StartsOver, again.Next));
    }

    private static Task<FactPage> ListAsync(Site site, string query) => site.Organisation.Office.ReadAsync<FactPage>($"/v1/facts?{query}");

    private static async Task<IEnumerable<int>> NumbersAsync(Site site, string query) =>
        (await ListAsync(site, query)).Items.Select(fact => fact.RunningNumber).Order();

    private async Task<Site> OpenAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return new Site(service, organisation, await organisation.AddDeviceAsync());
    }
}
