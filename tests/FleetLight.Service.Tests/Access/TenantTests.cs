using System.Net;
using System.Text.RegularExpressions;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Access;

/// <summary>
/// One organisation with something behind every path, and another that calls all of them with the first one's ids. Whatever
/// the first one has, its id begins with a mark that the other must never see.
/// </summary>
public sealed partial class TenantTests(FleetService service) : IClassFixture<FleetService>
{
    // What they answer is the same for everybody.
    private static readonly string[] ForEverybody =
    [
        "/v1/rules", "/health/live", "/health/ready", "/metrics", "/openapi/v1.json", "/asyncapi.json",
        "/ogc", "/ogc/conformance", "/ogc/collections", "/ogc/collections/{collection}",
        "/ogc/collections/{collection}/queryables", "/ogc/collections/{collection}/schema", "/ogc/collections/{collection}/tiles",
        "/ogc/collections/{collection}/tiles/WebMercatorQuad",
    ];

    // Numbers, digests and signatures, which name nothing that anybody recorded: the other gets its own, or none.
    private static readonly string[] Unnamed =
    [
        "/v1/ledger/checkpoint", "/v1/ledger/checkpoints", "/v1/ledger/consistency", "/v1/ledger/keys", "/v1/export/leaf-hashes", "/v1/export/manifest",
    ];

    // The other organisation has a device of the same source, and does these to its own: DeviceTests try them without one.
    private static readonly string[] OfItsOwnDevice = ["/v1/devices/{source}/lost", "/v1/devices/{source}/sites"];

    [Fact]
    public async Task Nothing_of_one_organisation_is_seen_by_another()
    {
        Owner owner = await Owner.AddAsync(service);
        Organisation other = await service.AddOrganisationAsync();
        Device otherDevice = await other.AddDeviceAsync($"urn:{Owner.Mark}:device");
        foreach (Operation operation in (await Operation.AllAsync(service.Anybody)).Where(each => each.Method == "GET" && !ForEverybody.Contains(each.Path)))
        {
            (ApiClient own, ApiClient foreign) = operation.Scope is "post-events" or Operation.AnyScope ? (owner.Device.Api, otherDevice.Api) : (owner.Office, other.Office);

            Answer seenByOwner = await operation.CallAsync(own, name => owner.Parameter(operation.Path, name));
            Answer seenByOther = await operation.CallAsync(foreign, name => owner.Parameter(operation.Path, name));

            Assert.True(seenByOwner.Status == HttpStatusCode.OK, $"{operation}: {seenByOwner.Status}");
            if (Unnamed.Contains(operation.Path))
            {
                // The keys are the service's own; whatever else there is, is the owner's alone.
                if (operation.Path != "/v1/ledger/keys") Assert.NotEqual(seenByOwner.Text, seenByOther.Text);
                Assert.False(seenByOther.Text.Contains(owner.Organisation.Name, StringComparison.Ordinal), $"{operation}: {seenByOther.Text}");
                continue;
            }

            Assert.True(seenByOwner.Text.Contains(Owner.Mark, StringComparison.Ordinal), $"{operation} shows the owner nothing: {seenByOwner.Text}");
            Assert.True(seenByOther.Status is HttpStatusCode.OK or HttpStatusCode.NotFound, $"{operation}: {seenByOther.Status}");
            if (seenByOther.Status == HttpStatusCode.OK) AssertSeesNothing(operation, seenByOther);
        }

        Assert.Equal(0, (await otherDevice.ReceiptAsync()).Highest);
    }

    [Fact]
    public async Task Nothing_of_one_organisation_is_changed_by_another()
    {
        Owner owner = await Owner.AddAsync(service);
        Organisation other = await service.AddOrganisationAsync();
        Device otherDevice = await other.AddDeviceAsync(owner.Device.Source);
        string before = await ShowAsync(owner);

        foreach (Operation operation in (await Operation.AllAsync(service.Anybody)).Where(each => each.Method != "GET" && !OfItsOwnDevice.Contains(each.Path)))
        {
            ApiClient foreign = operation.Scope == "post-events" ? otherDevice.Api : other.Office;
            Answer answer = await operation.CallAsync(foreign, name => owner.Parameter(operation.Path, name));
            if (operation.Path.Contains('{', StringComparison.Ordinal))
                Assert.True(answer.Status is HttpStatusCode.NotFound or HttpStatusCode.BadRequest, $"{operation}: {answer.Status}");
        }

        // The very bodies that would do it, had they come from the owner.
        await other.Office.PostAsync($"/v1/alerts/{owner.AlertId}/acknowledge", new { note = "Not mine to note." });
        await other.Office.PostAsync($"/v1/refused/{owner.RefusedId}/dismiss", new { note = "Not mine to dismiss." });
        await other.Office.PostAsync($"/v1/refused/{owner.RefusedId}/resubmit", owner.Mended.Text, Envelope.SingleMediaType);
        // The other's device has the same source and sends the same ids with another content: it is another device.
        await otherDevice.TellAsync(Some.SiteOpened($"{Owner.Mark}-site", name: "Another garden"), Some.BoxSealed($"{Owner.Mark}-box", gelFilled: false));
        await service.CaughtUpAsync();

        Assert.Equal(before, await ShowAsync(owner));
    }

    [Fact]
    public async Task The_same_ids_mean_different_things_to_different_organisations()
    {
        Organisation one = await service.AddOrganisationAsync();
        Organisation other = await service.AddOrganisationAsync();
        await (await one.AddDeviceAsync()).TellAsync(Some.SiteOpened(name: "Rose garden"));
        await (await other.AddDeviceAsync()).TellAsync(Some.SiteOpened(name: "Harbour square"));
        await service.CaughtUpAsync();

        Assert.Equal("Rose garden", (await one.Office.ReadAsync<SiteView>($"/v1/sites/{Some.Site}")).Name);
        Assert.Equal("Harbour square", (await other.Office.ReadAsync<SiteView>($"/v1/sites/{Some.Site}")).Name);
    }

    [Fact]
    public async Task A_correction_reaches_no_fact_of_another_organisation()
    {
        Organisation one = await service.AddOrganisationAsync();
        Device device = await one.AddDeviceAsync();
        await device.SendAsync(device.Record(Some.SiteOpened(name: "Rose garden"), id: "target"));
        Organisation other = await service.AddOrganisationAsync();
        Device otherDevice = await other.AddDeviceAsync(device.Source);
        await otherDevice.TellAsync(Correct.Withdraw("target", Some.SiteOpened()));
        await service.CaughtUpAsync();

        Assert.Equal("Rose garden", (await one.Office.ReadAsync<SiteView>($"/v1/sites/{Some.Site}")).Name);
    }

    // Everything that the owner can read, as it stands; what was tried again meanwhile is no change by anybody.
    private async Task<string> ShowAsync(Owner owner)
    {
        List<string> shown = [];
        foreach (Operation operation in (await Operation.AllAsync(service.Anybody))
                 .Where(each => each.Method == "GET" && !ForEverybody.Contains(each.Path) && !each.Path.EndsWith("/deliveries", StringComparison.Ordinal)))
        {
            ApiClient own = owner.Of(operation);
            string text = (await operation.CallAsync(own, name => owner.Parameter(operation.Path, name))).Text;
            shown.Add($"{operation}: {Tried().Replace(text, "")}");
        }

        return string.Join('\n', shown);
    }

    [GeneratedRegex("\"attempts\":\\d+(,\"nextAttemptAt\":\"[^\"]*\")?(,\"lastError\":\"[^\"]*\")?")]
    private static partial Regex Tried();

    private static void AssertSeesNothing(Operation operation, Answer answer)
    {
        // A device's own source stands in its own receipt.
        string text = operation.Path.EndsWith("/receipts", StringComparison.Ordinal)
            || operation.Path is "/v1/keys" or "/v1/keys/self" or "/v1/fleet" or "/v1/devices" or "/v1/audit"
            ? answer.Text.Replace($"urn:{Owner.Mark}:device", "", StringComparison.Ordinal)
            : answer.Text;
        Assert.False(text.Contains(Owner.Mark, StringComparison.Ordinal), $"{operation} shows another organisation: {answer.Text}");
    }
}
