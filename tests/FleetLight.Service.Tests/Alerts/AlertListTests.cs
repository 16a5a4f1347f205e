using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Alerts;

public sealed class AlertListTests(AlertListTests.Fleet fleet) : IClassFixture<AlertListTests.Fleet>
{
    private ApiClient Office => fleet.Organisation.Office;

    [Theory]
    [InlineData("", "box-1 box-2 circuit-1 circuit-2")]
    [InlineData("site=north", "box-1 circuit-1")]
    [InlineData("circuit=circuit-2", "circuit-2")]
    [InlineData("severity=serious", "")]
    [InlineData("rule=fault-open", "circuit-1 circuit-2")]
    [InlineData("standing=raised", "box-2 circuit-1 circuit-2")]
    [InlineData("standing=acknowledged", "box-1")]
    [InlineData("standing=cleared", "box-3")]
    [InlineData("standing=any", "box-1 box-2 box-3 circuit-1 circuit-2")]
    [InlineData("standing=any&rule=ground-box-not-gel-filled&site=south", "box-2 box-3")]
    [InlineData("rule=no-such-rule", "")]
    public async Task Filters_leave_what_they_say(string filter, string expected)
    {
        List<AlertView> found = await Pages.AllAsync<AlertView>(Office, $"/v1/alerts?{filter}", expectedPages: 1);

        Assert.Equal(expected, string.Join(' ', found.Select(alert => alert.Finding.Subject.Id).Order()));
    }

    [Fact]
    public async Task Pages_hold_each_alert_once()
    {
        List<AlertView> all = await Pages.AllAsync<AlertView>(Office, "/v1/alerts?standing=any&limit=2", expectedPages: 3);

        Assert.Equal(5, all.Select(alert => alert.Id).Distinct().Count());
    }

    [Fact]
    public async Task Alerts_are_asked_for_by_when_they_were_raised()
    {
        List<AlertView> all = await Pages.AllAsync<AlertView>(Office, "/v1/alerts?standing=any", expectedPages: 1);
        DateTimeOffset last = all.Max(alert => alert.RaisedAt);
        string asked = Uri.EscapeDataString(last.ToString("O"));

        List<AlertView> since = await Pages.AllAsync<AlertView>(Office, $"/v1/alerts?standing=any&raisedAfter={asked}", expectedPages: 1);
        List<AlertView> before = await Pages.AllAsync<AlertView>(Office, $"/v1/alerts?standing=any&raisedBefore={asked}", expectedPages: 1);

        Assert.Equal(all.Where(alert => alert.RaisedAt == last).Select(alert => alert.Id), since.Select(alert => alert.Id));
        Assert.NotEmpty(since);
        Assert.Equal(all.Where(alert => alert.RaisedAt < last).Select(alert => alert.Id), before.Select(alert => alert.Id));
        Assert.Equal("raisedBefore", (await Office.GetAsync("/v1/alerts?raisedBefore=then")).As<Problem>().Field);
    }

    [Theory]
    [InlineData("severity=terrible", "an unknown severity")]
    [InlineData("standing=asleep", "an unknown standing")]
    public async Task A_word_that_is_not_taken_is_told_which_are(string query, string name)
    {
        Approved.Same("Alerts", name, await Office.GetAsync($"/v1/alerts?{query}"));
    }

    /// <summary>Five alerts in different standings.</summary>
    public sealed class Fleet : FleetService
    {
        internal Organisation Organisation { get; private set; } = null!;

        public override async ValueTask InitializeAsync()
        {
            await base.InitializeAsync();
            Organisation = await AddOrganisationAsync();
            Device device = await Organisation.AddDeviceAsync();
            await device.TellAsync(
                Some.BoxSealed("box-1", gelFilled: false, site: "north"), Some.BoxSealed("box-2", gelFilled: false, site: "south"),
                Some.BoxSealed("box-3", gelFilled: false, site: "south"),
                Some.FaultReported("fault-1", "circuit-1") with { SiteId = "north" }, Some.FaultReported("fault-2", "circuit-2") with { SiteId = "south" });
            await CaughtUpAsync();
            await device.TellAsync(Some.BoxSealed("box-3", site: "south"));
            AlertView first = (await Organisation.Office.ReadAsync<Page<AlertView>>("/v1/alerts?site=north&rule=ground-box-not-gel-filled")).Items[0];
            await Organisation.Office.PostAsync($"/v1/alerts/{first.Id}/acknowledge", new { note = "On Monday." });
            await CaughtUpAsync();
        }
    }
}
