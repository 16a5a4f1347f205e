using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Sites;

public sealed class SiteTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task Sites_are_listed_in_pages_in_the_order_of_their_ids()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync([.. "52413".Select(number => Some.SiteOpened($"s-{number}"))]);
        await service.CaughtUpAsync();

        List<SiteView> sites = await Pages.AllAsync<SiteView>(organisation.Office, "/v1/sites?limit=2", expectedPages: 3);

        Assert.Equal(["s-1", "s-2", "s-3", "s-4", "s-5"], sites.Select(site => site.Id));
    }

    [Fact]
    public async Task A_site_says_what_it_is_called_where_it_is_and_what_the_job_calls_for()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.SiteOpened(calls: [new DuctCall { Service = DuctService.MainsSupply, Wall = DuctWall.TwinWall }]));
        await service.CaughtUpAsync();

        SiteView site = await organisation.Office.ReadAsync<SiteView>($"/v1/sites/{Some.Site}");

        Assert.Equal(("Walled garden", "By the lower gate", Device.Began.AddMinutes(1)), (site.Name, site.Place, site.OpenedAt));
        Assert.Equal(new DuctCall { Service = DuctService.MainsSupply, Wall = DuctWall.TwinWall }, Assert.Single(site.DuctCalls!));
        Assert.Equal([-0.12, 51.5], site.Position!.Coordinates);
    }

    [Fact]
    public async Task A_duct_that_was_laid_before_its_site_called_for_another_wall_is_judged_again()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.DuctLaid());
        await service.CaughtUpAsync();
        Assert.DoesNotContain("duct-wall-not-as-called", await FindingsAsync(organisation));

        await device.TellAsync(Some.SiteOpened(calls: [new DuctCall { Service = DuctService.LightingExtraLowVoltage, Wall = DuctWall.SmoothRigid }]));
        await service.CaughtUpAsync();

        Assert.Contains("duct-wall-not-as-called", await FindingsAsync(organisation));
    }

    [Fact]
    public async Task The_fleet_is_counted()
    {
        (Organisation organisation, Device device) = await AddAsync();
        Device silent = await organisation.AddDeviceAsync();
        await device.TellAsync(
            Some.SiteOpened("s-1"), Some.SiteOpened("s-2"), Some.CircuitDesigned("c-1"), Some.CircuitDesigned("c-2"),
            Some.Reading(9, "c-3"), Some.BoxSealed("b-1", gelFilled: false), Some.BoxSealed("b-2", gelFilled: false));
        await service.CaughtUpAsync();

        FleetView fleet = await organisation.Office.ReadAsync<FleetView>("/v1/fleet");

        Assert.Equal((2, 3), (fleet.Sites, fleet.Circuits));
        Assert.Equivalent(new Dictionary<string, long> { ["designed"] = 2, ["named"] = 1 }, fleet.CircuitsByPhase, strict: true);
        Assert.Equivalent(new Dictionary<string, long> { ["unread"] = 2, ["cannot-be-judged"] = 1 }, fleet.CircuitsByVerdict, strict: true);
        Assert.Equivalent(new Dictionary<string, long> { ["warning"] = 2, ["notice"] = 2 }, fleet.OpenAlertsBySeverity, strict: true);
        Assert.Equal([new(device.Source, service.Clock.Now), new(silent.Source, null)], fleet.Devices);
    }

    [Fact]
    public async Task An_empty_fleet_counts_nothing()
    {
        (Organisation organisation, Device silent) = await AddAsync();

        FleetView fleet = await organisation.Office.ReadAsync<FleetView>("/v1/fleet");

        Assert.Equal((0, 0), (fleet.Sites, fleet.Circuits));
        Assert.Empty(fleet.CircuitsByPhase);
        Assert.Equal([new(silent.Source, null)], fleet.Devices);
    }

    [Theory]
    [InlineData("ducts", "duct")]
    [InlineData("cables", "cable")]
    [InlineData("boxes", "box")]
    public async Task A_thing_that_nobody_recorded_is_not_found(string path, string kind)
    {
        (Organisation organisation, _) = await AddAsync();

        Approved.Same("Sites", $"no such {kind}", await organisation.Office.GetAsync($"/v1/{path}/nobody-has-it"));
    }

    private static async Task<IEnumerable<string>> FindingsAsync(Organisation organisation) =>
        (await organisation.Office.ReadAsync<DuctView>($"/v1/ducts/{Some.Duct}")).Findings.Select(finding => finding.Rule);

    private async Task<(Organisation Organisation, Device Device)> AddAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return (organisation, await organisation.AddDeviceAsync());
    }
}
