using System.Net;
using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Circuits;

public sealed class ListTests(ListTests.Fleet fleet) : IClassFixture<ListTests.Fleet>
{
    private ApiClient Office => fleet.Organisation.Office;

    [Fact]
    public async Task All_circuits_are_listed_in_the_order_of_their_ids()
    {
        List<CircuitLine> all = await Pages.AllAsync<CircuitLine>(Office, "/v1/circuits", expectedPages: 1);

        Assert.Equal(["c-01", "c-02", "c-03", "c-04", "c-05", "c-06", "c-07"], all.Select(line => line.Id));
    }

    [Theory]
    [InlineData(1, 7)]
    [InlineData(2, 4)]
    [InlineData(3, 3)]
    [InlineData(6, 2)]
    [InlineData(7, 1)]
    [InlineData(1000, 1)]
    public async Task Pages_hold_each_circuit_once(int limit, int pages)
    {
        List<CircuitLine> all = await Pages.AllAsync<CircuitLine>(Office, $"/v1/circuits?limit={limit}", pages);

        Assert.Equal(["c-01", "c-02", "c-03", "c-04", "c-05", "c-06", "c-07"], all.Select(line => line.Id));
    }

    [Fact]
    public async Task The_link_to_the_next_page_keeps_the_filters()
    {
        List<CircuitLine> all = await Pages.AllAsync<CircuitLine>(Office, "/v1/circuits?site=south&limit=2", expectedPages: 2);

        Assert.Equal(["c-05", "c-06", "c-07"], all.Select(line => line.Id));
    }

    [Theory]
    [InlineData("site=north", "c-01 c-02 c-03 c-04")]
    [InlineData("site=nowhere", "")]
    [InlineData("phase=designed", "c-02 c-04 c-05 c-06")]
    [InlineData("phase=cabled", "c-01 c-03")]
    [InlineData("phase=named", "c-07")]
    [InlineData("phase=handed-over", "")]
    [InlineData("verdict=outside", "c-03")]
    [InlineData("verdict=within", "c-01")]
    [InlineData("verdict=cannot-be-judged", "c-07")]
    [InlineData("verdict=UNREAD", "c-02 c-04 c-05 c-06")]
    [InlineData("rule=reading-outside", "c-03")]
    [InlineData("rule=driver-at-limit", "c-06")]
    [InlineData("rule=duct-left-open", "c-01 c-03")]
    [InlineData("rule=no-such-rule", "")]
    [InlineData("site=north&phase=cabled&verdict=within", "c-01")]
    [InlineData("site=south&phase=cabled", "")]
    public async Task Filters_leave_what_they_say(string filter, string expected)
    {
        List<CircuitLine> found = await Pages.AllAsync<CircuitLine>(Office, $"/v1/circuits?{filter}", expectedPages: 1);

        Assert.Equal(expected, string.Join(' ', found.Select(line => line.Id)));
    }

    [Fact]
    public async Task A_line_says_the_same_as_the_status()
    {
        foreach (CircuitLine line in await Pages.AllAsync<CircuitLine>(Office, "/v1/circuits", expectedPages: 1))
        {
            CircuitView status = await Office.ReadAsync<CircuitView>($"/v1/circuits/{line.Id}");
            Assert.Equal((status.Name, status.SiteId, status.Drive, status.Phase, status.Verdict), (line.Name, line.SiteId, line.Drive, line.Phase, line.Verdict));
            Assert.Equal(status.LastReadings.Select(reading => reading.Value), line.LastVolts is { } volts ? [volts] : []);
            Assert.Equal(status.LastReadings.Select(reading => reading.HappenedAt), line.LastReadAt is { } at ? [at] : []);
            Assert.Equal(status.Expected.FirstOrDefault(each => each.Place == Contracts.ReadingPlaceKind.Driver)?.Expected, line.ExpectedVolts);
            Assert.Subset(line.Rules.ToHashSet(), status.Findings.Select(finding => finding.Rule).ToHashSet());
        }
    }

    [Theory]
    [InlineData("limit=0", "a page of none")]
    [InlineData("limit=-1", "a page of none")]
    [InlineData("limit=1001", "a page of none")]
    [InlineData("cursor=%00", "the character zero")]
    [InlineData("cursor=not%20base64", "an unknown cursor")]
    [InlineData("phase=finished", "an unknown phase")]
    [InlineData("verdict=fine", "an unknown verdict")]
    [InlineData("phase=3", "a phase as a number")]
    public async Task A_parameter_that_is_not_understood_is_told_what_is(string query, string name)
    {
        Approved.Same("Circuits", name, await Office.GetAsync($"/v1/circuits?{query}"));
    }

    [Fact]
    public async Task A_cursor_stays_good_when_the_list_grows()
    {
        Organisation organisation = await fleet.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.Reading(circuit: "b"), Some.Reading(circuit: "d"), Some.Reading(circuit: "f"));
        await fleet.CaughtUpAsync();
        Answer first = await organisation.Office.GetAsync("/v1/circuits?limit=2");

        await device.TellAsync(Some.Reading(circuit: "a"), Some.Reading(circuit: "e"));
        await fleet.CaughtUpAsync();
        Answer second = await organisation.Office.GetAsync(Pages.NextOf(first)!);

        Assert.Equal(["b", "d"], first.As<Page<CircuitLine>>().Items.Select(line => line.Id));
        Assert.Equal(["e", "f"], second.Expect(HttpStatusCode.OK).As<Page<CircuitLine>>().Items.Select(line => line.Id));
    }

    /// <summary>Seven circuits on two sites, in different states.</summary>
    public sealed class Fleet : FleetService
    {
        internal Organisation Organisation { get; private set; } = null!;

        public override async ValueTask InitializeAsync()
        {
            await base.InitializeAsync();
            Organisation = await AddOrganisationAsync();
            Device device = await Organisation.AddDeviceAsync();
            await device.TellAsync(
                Some.CircuitDesigned("c-01", "north", "k-01"), Some.CablePulled("k-01", circuit: "c-01", site: "north"), Some.Reading(9.8, "c-01", "north"),
                Some.CircuitDesigned("c-02", "north", "k-02"),
                Some.CircuitDesigned("c-03", "north", "k-03"), Some.CablePulled("k-03", circuit: "c-03", site: "north"), Some.Reading(12.4, "c-03", "north"),
                Some.CircuitDesigned("c-04", "north", "k-04"),
                Some.CircuitDesigned("c-05", "south", "k-05"),
                Some.CircuitDesigned("c-06", "south", "k-06", mostVolts: 9.9),
                Some.Reading(9.3, "c-07", "south"));
            await CaughtUpAsync();
        }
    }
}
