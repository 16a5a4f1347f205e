using System.Net;
using System.Text;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Devices;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Devices;

public sealed class DeviceTests(FleetService service) : IClassFixture<FleetService>
{
    [Theory]
    [InlineData("urn:uuid:0b9f0f4e-7a1c-4a34-9d0d-5a3f6c1f2d3e")]
    [InlineData("/devices/crew-1")]
    [InlineData("a%2Fb")]
    [InlineData("a%25b")]
    [InlineData("tag:example.org,2026:van/3?left#top")]
    public async Task Sites_are_assigned_to_a_device_whatever_its_source(string source)
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync(source);

        Answer assigned = await AssignAsync(organisation.Office, source, "s2", "s1", "s2");

        Assert.Equal(["s2", "s1"], assigned.Expect(HttpStatusCode.OK).As<AssignedSites>().Sites);
        Assert.Equal(["s2", "s1"], (await device.Api.ReadAsync<AssignedSites>("/v1/devices/self/sites")).Sites);
        Assert.Equal(["s2", "s1"], Assert.Single((await organisation.Office.ReadAsync<Page<DeviceView>>("/v1/devices")).Items).Sites);
    }

    [Fact]
    public async Task Silent_devices_are_those_of_which_nothing_was_heard_for_so_long()
    {
        await using FleetService own = new();
        await own.InitializeAsync();
        Organisation organisation = await own.AddOrganisationAsync();
        await (await organisation.AddDeviceAsync("urn:device:long-gone")).TellAsync(Some.SiteOpened());
        await organisation.AddDeviceAsync("urn:device:never-heard");
        Device awake = await organisation.AddDeviceAsync("urn:device:awake");
        own.Clock.Now = own.Clock.Now.AddDays(8);
        await awake.TellAsync(Some.SiteOpened("site-2"));

        Assert.Equal(["urn:device:long-gone", "urn:device:never-heard"], await SilentAsync(7));
        Assert.Equal(["urn:device:never-heard"], await SilentAsync(9));
        Assert.Equal("silentDays", (await organisation.Office.GetAsync("/v1/devices?silentDays=-1")).As<Problem>().Field);

        async Task<IEnumerable<string>> SilentAsync(int days) =>
            (await organisation.Office.ReadAsync<Page<DeviceView>>($"/v1/devices?silentDays={days}")).Items.Select(device => device.Source);
    }

    [Fact]
    public async Task The_list_says_how_each_device_stands()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device one = await organisation.AddDeviceAsync("urn:device:one");
        one.Skip();
        await one.TellAsync(Some.SiteOpened());
        await organisation.AddDeviceAsync("urn:device:two");

        Page<DeviceView> page = await organisation.Office.ReadAsync<Page<DeviceView>>("/v1/devices");

        Assert.Equal(["urn:device:one", "urn:device:two"], page.Items.Select(device => device.Source));
        Assert.Equal((service.Clock.Now, 0, 2, true), (page.Items[0].LastSeen, page.Items[0].Receipt.CompleteThrough, page.Items[0].Receipt.Highest, page.Items[0].HasKey));
        Assert.Equal((null, 0, true), (page.Items[1].LastSeen, page.Items[1].Receipt.Highest, page.Items[1].HasKey));
        Page<DeviceView> first = await organisation.Office.ReadAsync<Page<DeviceView>>("/v1/devices?limit=1");
        Assert.Equal("urn:device:two", Assert.Single((await organisation.Office.ReadAsync<Page<DeviceView>>($"/v1/devices?limit=1&cursor={first.Next}")).Items).Source);
    }

    [Fact]
    public async Task A_lost_device_is_refused_at_once_and_what_it_recorded_stays()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync("/devices/lost");
        await device.TellAsync(Some.SiteOpened());
        string next = (await device.Api.PostAsync("/v1/keys/self/rotate")).As<RotatedKey>().Key;
        EnrolmentView again = (await organisation.Office.PostAsync("/v1/enrolments", new { name = "again", role = "device", source = device.Source })).As<EnrolmentView>();

        LostDevice lost = (await organisation.Office.PostAsync($"/v1/devices/{Uri.EscapeDataString(device.Source)}/lost")).Expect(HttpStatusCode.OK).As<LostDevice>();

        Assert.Equal(new[] { device.Api.Key!.Split('.')[0], next.Split('.')[0] }.Order(), lost.RevokedKeys.Order());
        Assert.Equal([again.Id], lost.WithdrawnEnrolments);
        Assert.Equal(HttpStatusCode.Unauthorized, (await device.Api.GetAsync("/v1/devices/self/receipts")).Status);
        Assert.Equal(HttpStatusCode.Unauthorized, (await service.Anybody.With(next).GetAsync("/v1/devices/self/receipts")).Status);
        Assert.Equal(HttpStatusCode.Forbidden, (await service.Anybody.PostAsync("/v1/enrolments/exchange", new { code = again.Code })).Status);
        Assert.False(Assert.Single((await organisation.Office.ReadAsync<Page<DeviceView>>("/v1/devices")).Items).HasKey);
        await service.CaughtUpAsync();
        Assert.Equal(HttpStatusCode.OK, (await organisation.Office.GetAsync($"/v1/sites/{Some.Site}")).Status);
        Assert.Equal(1, (await (await organisation.AddDeviceAsync(device.Source)).ReceiptAsync()).CompleteThrough);
    }

    [Fact]
    public async Task A_device_of_another_organisation_is_not_there()
    {
        await (await service.AddOrganisationAsync()).AddDeviceAsync("urn:device:theirs");
        Organisation other = await service.AddOrganisationAsync();

        Approved.Same("Devices", "not there", await AssignAsync(other.Office, "urn:device:theirs", "s1"));
        Approved.Same("Devices", "not there", await other.Office.PostAsync("/v1/devices/urn%3Adevice%3Atheirs/lost"));
    }

    [Fact]
    public async Task A_key_without_a_device_has_no_sites() => Approved.Same(
        "Devices", "no device", await service.Anybody.With(await KeyWithoutDeviceAsync()).GetAsync("/v1/devices/self/sites"));

    private async Task<string> KeyWithoutDeviceAsync()
    {
        string key = await (await service.AddOrganisationAsync()).MakeKeyAsync("post-events");
        await service.QueryAsync<string>("update fleetlight.mt_doc_keyrecord set data = data - 'source' where id = $1 returning id", key.Split('.')[0]);
        return key;
    }

    private static Task<Answer> AssignAsync(ApiClient by, string source, params string[] sites) => by.SendAsync(
        HttpMethod.Put, $"/v1/devices/{Uri.EscapeDataString(source)}/sites",
        new StringContent($$"""{"sites":[{{string.Join(',', sites.Select(site => $"\"{site}\""))}}]}""", Encoding.UTF8, "application/json"));
}
