using System.Net;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Sites;

/// <summary>Lists over a whole fleet.</summary>
public sealed class FleetListTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task A_site_has_a_line_with_what_stands_on_it_in_numbers()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(
            Some.SiteOpened("s-1"), Some.CircuitDesigned("c-1", "s-1"), Some.CircuitDesigned("c-2", "s-1"), Some.Reading(1, "c-1", "s-1"),
            Some.BoxSealed("b-1", gelFilled: false, site: "s-1"), Some.SiteOpened("s-2"));
        await service.CaughtUpAsync();

        FleetSiteLine[] lines = [.. await ListAsync(organisation, "")];

        Assert.Equal(["s-1", "s-2"], lines.Select(line => line.Id));
        FleetSiteLine line = lines[0];
        Assert.Equal(("Walled garden", "By the lower gate", 2), (line.Name, line.Place, line.Circuits));
        Assert.Equal([-0.12, 51.5], line.Position!.Coordinates);
        Assert.Equal(new Dictionary<string, long> { ["designed"] = 2 }, line.CircuitsByPhase);
        Assert.Equal(new Dictionary<string, long> { ["outside"] = 1, ["unread"] = 1 }, line.CircuitsByVerdict);
        Page<AlertView> alerts = await organisation.Office.ReadAsync<Page<AlertView>>("/v1/alerts?site=s-1");
        Assert.Equal(
            alerts.Items.GroupBy(alert => alert.Finding.Severity).ToDictionary(group => Word(group.Key), group => (long)group.Count()),
            line.OpenAlertsBySeverity);
        Assert.NotEmpty(line.OpenAlertsBySeverity);
        Assert.Equal(Device.Began.AddMinutes(5), line.LastFactAt);
        Assert.Equal((0, 0, 0), (lines[1].Circuits, lines[1].CircuitsByPhase.Count, lines[1].OpenAlertsBySeverity.Count));
    }

    [Fact]
    public async Task Sites_are_found_by_text_verdict_and_severity_in_pages()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(
            Some.SiteOpened("s-1", "Lower Quay"), Some.SiteOpened("s-2", "Orchard"), Some.SiteOpened("s-3", "Quayside steps"),
            Some.CircuitDesigned("c-1", "s-2"), Some.Reading(1, "c-1", "s-2"), Some.CircuitDesigned("c-9", "unopened"));
        await service.CaughtUpAsync();

        Assert.Equal(["s-1", "s-3"], await FoundAsync(organisation, "q=QUAY"));
        Assert.Equal(["s-2"], await FoundAsync(organisation, "q=s-2"));
        Assert.Equal(["s-1", "s-2", "s-3"], await FoundAsync(organisation, "q=lower%20gate"));
        Assert.Empty(await FoundAsync(organisation, "q=%25"));
        Assert.Equal(["unopened"], await FoundAsync(organisation, "verdict=unread"));
        Assert.Equal(["s-2"], await FoundAsync(organisation, "verdict=outside"));
        Assert.Equal(["s-2"], await FoundAsync(organisation, "severity=warning"));
        Assert.Empty(await FoundAsync(organisation, "q=quay&verdict=outside"));
        Assert.Equal(
            ["s-1", "s-2", "s-3", "unopened"],
            (await Pages.AllAsync<FleetSiteLine>(organisation.Office, "/v1/fleet/sites?limit=2", expectedPages: 2)).Select(line => line.Id));
        Assert.Equal("verdict", (await organisation.Office.GetAsync("/v1/fleet/sites?verdict=nice")).As<Problem>().Field);
        Assert.Equal("severity", (await organisation.Office.GetAsync("/v1/fleet/sites?severity=nice")).As<Problem>().Field);
    }

    [Fact]
    public async Task Circuits_are_found_by_text_and_say_the_name_of_their_site()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(
            Some.SiteOpened("s-1", "Lower Quay"), Some.CircuitDesigned("North-steps", "s-1") with { Name = "Fountain" },
            Some.CircuitDesigned("c-2", "s-1"), Some.CircuitDesigned("c-3", "s-2"));
        await service.CaughtUpAsync();

        Assert.Equal(["North-steps"], await CircuitsAsync("q=fount"));
        Assert.Equal(["North-steps"], await CircuitsAsync("q=nOrth"));
        Assert.Equal(["North-steps", "c-2", "c-3"], (await CircuitsAsync("q=steps")).Order(StringComparer.Ordinal));
        Assert.Equal(["North-steps", "c-2"], (await CircuitsAsync("q=steps&site=s-1")).Order(StringComparer.Ordinal));
        Page<CircuitLine> all = await organisation.Office.ReadAsync<Page<CircuitLine>>("/v1/circuits");
        Assert.Equal("Lower Quay", all.Items.Single(line => line.Id == "c-2").SiteName);
        Assert.Null(all.Items.Single(line => line.Id == "c-3").SiteName);

        async Task<IEnumerable<string>> CircuitsAsync(string query) =>
            (await organisation.Office.ReadAsync<Page<CircuitLine>>($"/v1/circuits?{query}")).Items.Select(line => line.Id);
    }

    [Fact]
    public async Task A_day_is_what_happened_on_it_by_the_clock_that_is_asked_for()
    {
        (Organisation organisation, Device device) = await AddAsync();
        Device other = await organisation.AddDeviceAsync();
        DateTimeOffset midnight = new(2026, 3, 3, 0, 0, 0, TimeSpan.Zero);
        await device.SendAsync(
            device.Record(Some.SiteOpened("s-1", "Lower Quay"), midnight.AddHours(-1)), device.Record(Some.DuctLaid(site: "s-1"), midnight.AddHours(8)),
            device.Record(Some.Reading(site: "s-1"), midnight.AddHours(9)), device.Record(Some.Reading(site: "s-2"), midnight.AddHours(10)),
            device.Record(Some.Reading(site: "s-1"), midnight.AddHours(24)));
        await other.SendAsync(other.Record(Some.Reading(site: "s-1"), midnight.AddHours(23.5)));
        await service.CaughtUpAsync();

        FleetDayView day = await organisation.Office.ReadAsync<FleetDayView>("/v1/fleet/day?date=2026-03-03");

        Assert.Equal((midnight, midnight.AddDays(1), 4), (day.From, day.To, day.Facts));
        Assert.Equal([device.Source, other.Source], day.Devices.Select(each => each.Source));
        DeviceDay first = day.Devices[0];
        Assert.Equal((device.Source, 3, midnight.AddHours(8), midnight.AddHours(10)), (first.Name, first.Facts, first.FirstAt, first.LastAt));
        Assert.Equal(
            new Dictionary<string, long> { ["fleetlight.duct.laid.v1"] = 1, ["fleetlight.reading.taken.v1"] = 2 }, first.FactsByType);
        Assert.Equal(
            [("s-1", "Lower Quay", 2L, midnight.AddHours(8), midnight.AddHours(9)), ("s-2", null, 1L, midnight.AddHours(10), midnight.AddHours(10))],
            first.Sites.Select(site => (site.Id, site.Name, site.Facts, site.FirstAt, site.LastAt)));

        FleetDayView ahead = await organisation.Office.ReadAsync<FleetDayView>("/v1/fleet/day?date=2026-03-03&offsetMinutes=60");
        Assert.Equal((midnight.AddHours(-1), 4), (ahead.From, ahead.Facts));
        Assert.Equal(midnight.AddHours(-1), ahead.Devices[0].FirstAt);
        Assert.Single(ahead.Devices);
        Assert.Empty((await organisation.Office.ReadAsync<FleetDayView>("/v1/fleet/day?date=2026-03-09")).Devices);
    }

    [Theory]
    [InlineData("", "date")]
    [InlineData("date=yesterday", "date")]
    [InlineData("date=2026-13-01", "date")]
    [InlineData("date=2026-03-03&offsetMinutes=900", "offsetMinutes")]
    public async Task A_day_that_cannot_be_read_is_refused(string query, string field)
    {
        (Organisation organisation, _) = await AddAsync();

        Answer answer = await organisation.Office.GetAsync($"/v1/fleet/day?{query}");

        Assert.Equal((HttpStatusCode.BadRequest, field), (answer.Status, answer.As<Problem>().Field));
    }

    [Fact]
    public async Task Until_the_lists_are_filled_the_answer_is_to_come_back()
    {
        await using FleetService fresh = new();
        await fresh.InitializeAsync();
        Organisation organisation = await fresh.AddOrganisationAsync();
        await fresh.QueryAsync<bool>("delete from fleetlight.fl_facts_whole returning one");

        foreach (string path in (string[])["/v1/facts", "/v1/fleet/sites", "/v1/fleet/day?date=2026-03-03", "/v1/sites/s/as-built?asOf=2026-03-03T00:00:00Z"])
        {
            Answer answer = await organisation.Office.GetAsync(path);
            Assert.Equal((HttpStatusCode.ServiceUnavailable, ProblemTypes.Unavailable), (answer.Status, answer.As<Problem>().Type));
        }
    }

    private static string Word<T>(T word) where T : struct, Enum => System.Text.Json.JsonNamingPolicy.KebabCaseLower.ConvertName(word.ToString());

    private static async Task<IReadOnlyList<FleetSiteLine>> ListAsync(Organisation organisation, string query) =>
        (await organisation.Office.ReadAsync<Page<FleetSiteLine>>($"/v1/fleet/sites?{query}")).Items;

    private static async Task<IEnumerable<string>> FoundAsync(Organisation organisation, string query) =>
        (await ListAsync(organisation, query)).Select(line => line.Id);

    private async Task<(Organisation Organisation, Device Device)> AddAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return (organisation, await organisation.AddDeviceAsync());
    }
}
