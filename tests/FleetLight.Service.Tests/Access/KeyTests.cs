using System.Net;
using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Access;

public sealed class KeyTests(FleetService service) : IClassFixture<FleetService>
{
    public static TheoryData<string, string> BadRequests => new()
    {
        { "no name", """{"scopes":["read-status"]}""" },
        { "a blank name", """{"name":"  ","scopes":["read-status"]}""" },
        { "a name of 81 characters", $$"""{"name":"{{new string('n', 81)}}","scopes":["read-status"]}""" },
        { "no scope", """{"name":"me","scopes":[]}""" },
        { "an unknown scope", """{"name":"me","scopes":["do-anything"]}""" },
        { "a scope as a number", """{"name":"me","scopes":[3]}""" },
        { "to post events for no device", """{"name":"me","scopes":["post-events"]}""" },
        { "a source that is no URI reference", """{"name":"me","scopes":["post-events"],"source":"my phone"}""" },
        { "a source of 201 characters", $$"""{"name":"me","scopes":["post-events"],"source":"urn:{{new string('s', 197)}}"}""" },
        { "an empty source", """{"name":"me","scopes":["post-events"],"source":""}""" },
        { "a source that is kept for alerts", """{"name":"me","scopes":["post-events"],"source":"alert:1"}""" },
        { "another organisation", """{"name":"me","scopes":["read-status"],"organisation":"somebody-else"}""" },
        { "to be the host", """{"name":"me","scopes":["read-status"],"host":true}""" },
        { "an array", "[]" },
        { "null", "null" },
        { "no JSON", "me" },
        { "nothing", "" },
    };

    [Fact]
    public async Task A_key_is_made_with_what_was_asked_for()
    {
        Organisation organisation = await service.AddOrganisationAsync();

        Answer answer = await organisation.Office.PostAsync(
            "/v1/keys", Wanted(["post-events", "read-status", "read-status"], name: " Phone of the north crew ", source: "urn:device:north"));

        KeyView made = answer.Expect(HttpStatusCode.Created).As<KeyView>();
        Assert.Equal(("Phone of the north crew", organisation.Name, "urn:device:north"), (made.Name, made.Organisation, made.Source));
        Assert.Equal([Scope.PostEvents, Scope.ReadStatus], made.Scopes);
        Assert.Equal((service.Clock.Now, null), (made.CreatedAt, made.RevokedAt));
        Assert.StartsWith(made.Id + ".", made.Key, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await service.Anybody.With(made.Key).GetAsync("/v1/circuits")).Status);
    }

    [Theory]
    [MemberData(nameof(BadRequests))]
    public async Task No_key_is_made_of_a_request_that_is_wrong(string name, string body)
    {
        Organisation organisation = await service.AddOrganisationAsync();

        Answer answer = await organisation.Office.PostAsync("/v1/keys", body, "application/json");

        Approved.Same("Keys", name, answer);
        Assert.Single(await KeysAsync(organisation.Office));
    }

    [Fact]
    public async Task An_organisation_may_name_itself()
    {
        Organisation organisation = await service.AddOrganisationAsync();

        Answer answer = await organisation.Office.PostAsync(
            "/v1/keys", Wanted(["read-status"], organisation: organisation.Name));

        Assert.Equal(HttpStatusCode.Created, answer.Status);
    }

    [Fact]
    public async Task Only_the_first_key_may_make_keys_for_other_organisations_and_not_those_that_it_makes()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        object forAnother = Wanted(["administer"], organisation: "somebody-else");
        string ofTheHostsOwn = (await service.Host.PostAsync("/v1/keys", Wanted(["administer"]))).As<KeyView>().Key!;

        Assert.Equal(HttpStatusCode.Created, (await service.Host.PostAsync("/v1/keys", forAnother)).Status);
        Approved.Same("Keys", "another organisation", await organisation.Office.PostAsync("/v1/keys", forAnother));
        Approved.Same("Keys", "another organisation", await service.Anybody.With(ofTheHostsOwn).PostAsync("/v1/keys", forAnother));
    }

    [Theory]
    [InlineData("Capitals")]
    [InlineData("with blank")]
    [InlineData("*DEFAULT*")]
    [InlineData("")]
    [InlineData("an-organisation-with-a-name-of-41-letters")]
    public async Task The_host_cannot_make_an_organisation_of_any_name(string organisation)
    {
        Answer answer = await service.Host.PostAsync("/v1/keys", Wanted(["administer"], organisation: organisation));

        Approved.Same("Keys", "a bad name of an organisation", answer);
    }

    [Fact]
    public async Task A_revoked_key_is_listed_with_the_time_and_is_revoked_once()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        string id = (await organisation.MakeKeyAsync("read-status")).Split('.')[0];

        Assert.Equal(HttpStatusCode.NoContent, (await organisation.Office.DeleteAsync($"/v1/keys/{id}")).Status);
        Assert.Equal(HttpStatusCode.NoContent, (await organisation.Office.DeleteAsync($"/v1/keys/{id}")).Status);

        Assert.Equal(service.Clock.Now, Assert.Single(await KeysAsync(organisation.Office), key => key.Id == id).RevokedAt);
    }

    [Fact]
    public async Task What_a_revoked_key_recorded_stays()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened());

        await organisation.Office.DeleteAsync($"/v1/keys/{device.Api.Key!.Split('.')[0]}");
        await service.CaughtUpAsync();

        Assert.Equal(HttpStatusCode.OK, (await organisation.Office.GetAsync($"/v1/sites/{Some.Site}")).Status);
    }

    [Fact]
    public async Task A_new_key_for_the_same_device_goes_on_where_the_old_one_stopped()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device old = await organisation.AddDeviceAsync("urn:device:phone");
        await old.TellAsync(Some.SiteOpened(), Some.DuctLaid());

        Device renewed = await organisation.AddDeviceAsync("urn:device:phone");

        Assert.Equal(2, (await renewed.ReceiptAsync()).CompleteThrough);
    }

    [Fact]
    public async Task A_key_of_another_organisation_cannot_be_revoked_except_by_the_host()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Organisation other = await service.AddOrganisationAsync();
        string key = await organisation.MakeKeyAsync("read-status");

        Answer byAnother = await other.Office.DeleteAsync($"/v1/keys/{key.Split('.')[0]}");
        Assert.Equal(HttpStatusCode.NotFound, byAnother.Status);
        Assert.Equal(HttpStatusCode.OK, (await service.Anybody.With(key).GetAsync("/v1/circuits")).Status);

        Assert.Equal(HttpStatusCode.NoContent, (await service.Host.DeleteAsync($"/v1/keys/{key.Split('.')[0]}")).Status);
        Assert.Equal(HttpStatusCode.Unauthorized, (await service.Anybody.With(key).GetAsync("/v1/circuits")).Status);
    }

    private static object Wanted(string[] scopes, string name = "me", string? organisation = null, string? source = null) =>
        new { name, scopes, organisation, source };

    [Fact]
    public async Task A_key_of_the_office_records_under_its_own_source_which_its_successor_keeps()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        KeyView made = (await organisation.Office.PostAsync("/v1/keys", new { name = "desk", role = "office" })).Expect(HttpStatusCode.Created).As<KeyView>();
        Assert.Equal(OfficeSource.OfKey(made.Id), made.Source);
        Assert.DoesNotContain(made.Source!, (await organisation.Office.GetAsync("/v1/devices")).Text, StringComparison.Ordinal);
        ApiClient desk = service.Anybody.With(made.Key!);

        BatchReceipt told = await new Device(desk, made.Source!).TellAsync(Some.SiteOpened(), Some.CircuitDesigned());

        Assert.Equal((2, 2), (told.Recorded, told.Receipt.CompleteThrough));
        Assert.Contains(made.Source!, (await organisation.Office.GetAsync("/v1/devices")).Text, StringComparison.Ordinal);
        RotatedKey next = (await desk.PostAsync("/v1/keys/self/rotate")).Expect(HttpStatusCode.Created).As<RotatedKey>();
        CallerView who = await service.Anybody.With(next.Key).ReadAsync<CallerView>("/v1/keys/self");
        Assert.Equal(made.Source, who.Source);
    }

    private static async Task<KeyView[]> KeysAsync(ApiClient office) =>
        JsonSerializer.Deserialize<KeyView[]>((await office.GetAsync("/v1/keys")).Body, WireJson.Lenient)!;
}
