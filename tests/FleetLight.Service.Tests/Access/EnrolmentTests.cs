using System.Net;
using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Access;

public sealed class EnrolmentTests(FleetService service) : IClassFixture<FleetService>
{
    public static TheoryData<string, string> BadRequests => new()
    {
        { "no role", """{"name":"van 3"}""" },
        { "a blank name", """{"name":" ","role":"device"}""" },
        { "an unknown role", """{"name":"van 3","role":"owner"}""" },
        { "no hours", """{"name":"van 3","role":"device","hoursValid":0}""" },
        { "169 hours", """{"name":"van 3","role":"device","hoursValid":169}""" },
        { "a site with a bad id", """{"name":"van 3","role":"device","sites":["a b"]}""" },
        { "a source that is no URI reference", """{"name":"van 3","role":"device","source":"my phone"}""" },
        { "a source of the store's own", """{"name":"van 3","role":"device","source":"audit:acts"}""" },
        { "a source for who posts nothing", """{"name":"desk","role":"third-party","source":"urn:device:desk"}""" },
        { "nothing", "" },
    };

    [Fact]
    public async Task A_code_is_exchanged_once_for_a_key_that_works_as_the_device()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        EnrolmentView made = await MakeAsync(organisation.Office, new { name = "van 3 tablet", role = "device", sites = (string[])["s1", "s2", "s1"] });

        EnrolledKey enrolled = (await ExchangeAsync(made.Code!, "tablet 7")).Expect(HttpStatusCode.Created).As<EnrolledKey>();

        Assert.Equal((organisation.Name, made.Source, Role.Device), (enrolled.Organisation, enrolled.Source, enrolled.Role));
        Assert.Equal([Scope.PostEvents, Scope.ReadStatus, Scope.ReadAsBuilt], enrolled.Scopes);
        Device device = new(service.Anybody.With(enrolled.Key), enrolled.Source!);
        await device.TellAsync(Some.SiteOpened());
        CallerView who = await device.Api.ReadAsync<CallerView>("/v1/keys/self");
        Assert.Equal((enrolled.KeyId, "van 3 tablet", Role.Device, enrolled.Source), (who.KeyId, who.Name, who.Role, who.Source));
        Assert.Equal(["s1", "s2"], who.Sites!);
        Assert.Equal("""{"sites":["s1","s2"]}""", (await device.Api.GetAsync("/v1/devices/self/sites")).Text);
        Approved.Same("Enrolments", "a code that is not valid", await ExchangeAsync(made.Code!));
        EnrolmentView listed = Assert.Single((await organisation.Office.ReadAsync<Page<EnrolmentView>>("/v1/enrolments")).Items);
        Assert.Equal((EnrolmentState.Used, enrolled.KeyId, null), (listed.State, listed.KeyId, listed.Code));
    }

    [Fact]
    public async Task The_picture_holds_the_public_address_with_the_code_behind_the_hash()
    {
        Organisation organisation = await service.AddOrganisationAsync();

        EnrolmentView made = await MakeAsync(organisation.Office, new { name = "van 3", role = "device", hoursValid = 2 });

        Assert.Matches("^[0-9A-HJKMNP-TV-Z]{4}(-[0-9A-HJKMNP-TV-Z]{4}){2}$", made.Code!);
        Assert.Equal($"{service.Running.Address.ToString().TrimEnd('/')}/enrol#{made.Code}", made.Address);
        Assert.StartsWith("<svg", made.QrSvg!, StringComparison.Ordinal);
        string[] lines = made.QrText!.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        // Two rows a line; the smallest code with its margin has 29.
        Assert.InRange(lines.Length, 15, 40);
        Assert.All(lines.SkipLast(1), line => Assert.Equal(lines[0].Length, line.Length));
        Assert.Equal(service.Clock.Now.AddHours(2), made.ExpiresAt);
    }

    [Fact]
    public async Task A_code_may_be_typed_as_it_is_read()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        EnrolmentView made = await MakeAsync(organisation.Office, new { name = "van 3", role = "device" });
        string typed = made.Code!.Replace("-", " ", StringComparison.Ordinal).Replace('0', 'o').Replace('1', 'l').ToLowerInvariant();

        Assert.Equal(HttpStatusCode.Created, (await ExchangeAsync(typed)).Status);
    }

    [Fact]
    public async Task Of_two_who_exchange_a_code_at_once_one_gets_a_key()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        for (int round = 0; round < 3; round++)
        {
            EnrolmentView made = await MakeAsync(organisation.Office, new { name = $"van {round}", role = "device" });

            Answer[] answers = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => ExchangeAsync(made.Code!)));

            Assert.Single(answers, answer => answer.Status == HttpStatusCode.Created);
            Assert.Equal(7, answers.Count(answer => answer.Status == HttpStatusCode.Forbidden));
        }
    }

    [Theory]
    [InlineData("0000-0000-0000")]
    [InlineData("0000-0000-000")]
    [InlineData("UUUU-UUUU-UUUU")]
    [InlineData("0")]
    public async Task A_code_that_nobody_issued_is_not_valid(string code) =>
        Approved.Same("Enrolments", "a code that is not valid", await ExchangeAsync(code));

    [Fact]
    public async Task A_code_that_was_taken_back_is_not_valid()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        EnrolmentView made = await MakeAsync(organisation.Office, new { name = "van 3", role = "device" });

        Assert.Equal(HttpStatusCode.NoContent, (await organisation.Office.DeleteAsync($"/v1/enrolments/{made.Id}")).Status);
        Assert.Equal(HttpStatusCode.NoContent, (await organisation.Office.DeleteAsync($"/v1/enrolments/{made.Id}")).Status);

        Approved.Same("Enrolments", "a code that is not valid", await ExchangeAsync(made.Code!));
        Assert.Equal(EnrolmentState.Withdrawn, Assert.Single((await organisation.Office.ReadAsync<Page<EnrolmentView>>("/v1/enrolments")).Items).State);
    }

    [Fact]
    public async Task A_used_code_cannot_be_taken_back()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        EnrolmentView made = await MakeAsync(organisation.Office, new { name = "van 3", role = "device" });
        await ExchangeAsync(made.Code!);

        Approved.Same("Enrolments", "taken back too late", await organisation.Office.DeleteAsync($"/v1/enrolments/{made.Id}"));
    }

    [Theory]
    [MemberData(nameof(BadRequests))]
    public async Task No_code_is_issued_for_a_request_that_is_wrong(string name, string body)
    {
        Organisation organisation = await service.AddOrganisationAsync();

        Approved.Same("Enrolments", name, await organisation.Office.PostAsync("/v1/enrolments", body, "application/json"));

        Assert.Empty((await organisation.Office.ReadAsync<Page<EnrolmentView>>("/v1/enrolments")).Items);
    }

    [Fact]
    public async Task The_office_enrols_devices_and_its_own_kind_but_no_administrator()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        ApiClient office = service.Anybody.With(await KeyOfAsync(organisation, Role.Office));

        foreach (string role in (string[])["device", "crew-lead", "office", "third-party"]) await MakeAsync(office, new { name = role, role });
        Approved.Same("Enrolments", "more than one's own", await office.PostAsync("/v1/enrolments", new { name = "boss", role = "administrator" }));
        await MakeAsync(organisation.Office, new { name = "boss", role = "administrator" });
    }

    [Fact]
    public async Task A_code_for_the_office_gives_a_key_with_a_source_of_its_own()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        EnrolmentView made = await MakeAsync(organisation.Office, new { name = "desk", role = "office" });

        EnrolledKey enrolled = (await ExchangeAsync(made.Code!)).Expect(HttpStatusCode.Created).As<EnrolledKey>();

        Assert.Equal(OfficeSource.OfKey(enrolled.KeyId), enrolled.Source);
        Device desk = new(service.Anybody.With(enrolled.Key), enrolled.Source!);
        Assert.Equal(1, (await desk.TellAsync(Some.SiteOpened())).Recorded);
        Assert.Equal(HttpStatusCode.OK, (await desk.Api.GetAsync("/v1/refused")).Status);
    }

    [Fact]
    public async Task Another_organisation_neither_sees_nor_takes_back_an_enrolment()
    {
        EnrolmentView made = await MakeAsync((await service.AddOrganisationAsync()).Office, new { name = "van 3", role = "device" });
        Organisation other = await service.AddOrganisationAsync();

        Assert.Equal(HttpStatusCode.NotFound, (await other.Office.DeleteAsync($"/v1/enrolments/{made.Id}")).Status);
        Assert.Empty((await other.Office.ReadAsync<Page<EnrolmentView>>("/v1/enrolments")).Items);
        Assert.Equal(HttpStatusCode.Created, (await ExchangeAsync(made.Code!)).Status);
    }

    private static async Task<string> KeyOfAsync(Organisation organisation, Role role) =>
        (await organisation.Office.PostAsync("/v1/keys", new { name = "by role", role })).Expect(HttpStatusCode.Created).As<KeyView>().Key!;

    private static async Task<EnrolmentView> MakeAsync(ApiClient by, object wanted) =>
        (await by.PostAsync("/v1/enrolments", wanted)).Expect(HttpStatusCode.Created).As<EnrolmentView>();

    private Task<Answer> ExchangeAsync(string code, string? device = null) => service.Anybody.PostAsync("/v1/enrolments/exchange", new { code, device });
}

/// <summary>A service whose clock a test puts on.</summary>
public sealed class ExpiryTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task Codes_and_rotated_keys_end_when_their_time_is_over()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        EnrolmentView made = (await organisation.Office.PostAsync("/v1/enrolments", new { name = "van 3", role = "device", hoursValid = 1 })).As<EnrolmentView>();
        ApiClient old = service.Anybody.With(await organisation.MakeKeyAsync("read-status"));
        RotatedKey rotated = (await old.PostAsync("/v1/keys/self/rotate")).Expect(HttpStatusCode.Created).As<RotatedKey>();
        Assert.Equal(service.Clock.Now.AddHours(24), rotated.OldValidUntil);

        service.Clock.Advance(TimeSpan.FromHours(1));
        Approved.Same("Enrolments", "a code that is not valid", await service.Anybody.PostAsync("/v1/enrolments/exchange", new { code = made.Code }));
        Assert.Equal(EnrolmentState.Expired, Assert.Single((await organisation.Office.ReadAsync<Page<EnrolmentView>>("/v1/enrolments")).Items).State);
        Assert.Equal(HttpStatusCode.OK, (await old.GetAsync("/v1/circuits")).Status);

        service.Clock.Advance(TimeSpan.FromHours(23));
        Assert.Equal(HttpStatusCode.Unauthorized, (await old.GetAsync("/v1/circuits")).Status);
        Assert.Equal(HttpStatusCode.OK, (await service.Anybody.With(rotated.Key).GetAsync("/v1/circuits")).Status);
    }
}
