using System.Net;
using System.Security.Cryptography;
using System.Text;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Audit;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Testing.Service;
using Microsoft.IdentityModel.Tokens;
using Xunit;

namespace FleetLight.Service.Tests.Access;

/// <summary>Tokens of people (RFC 7519, RFC 8725), against providers that serve their keys on this machine.</summary>
public sealed class TokenTests(PeopleService service) : IClassFixture<PeopleService>
{
    private const string Rs256 = SecurityAlgorithms.RsaSha256;

    [Theory]
    [InlineData(SecurityAlgorithms.RsaSha256)]
    [InlineData(SecurityAlgorithms.RsaSha512)]
    [InlineData(SecurityAlgorithms.RsaSsaPssSha256)]
    public async Task A_token_signed_with_RSA_is_taken(string algorithm) =>
        Assert.Equal(HttpStatusCode.OK, (await ReadAsync(Good().Signed(service.Rsa, algorithm))).Status);

    [Fact]
    public async Task A_token_signed_on_an_elliptic_curve_is_taken() =>
        Assert.Equal(HttpStatusCode.OK, (await ReadAsync(Good().Signed(service.Curve, SecurityAlgorithms.EcdsaSha256))).Status);

    [Fact]
    public async Task Another_token_of_a_person_is_taken_where_one_is_refused_by_its_id() =>
        Assert.Equal(HttpStatusCode.OK, (await ReadAsync((Good() with { Id = "another-token" }).Signed(service.Rsa, Rs256))).Status);

    [Fact]
    public async Task A_person_of_the_office_has_the_scopes_of_their_roles_and_a_source_that_does_not_name_them()
    {
        string token = (Good() with { Roles = (string[])["lighting-office", "lighting-crew", "brass-band"] }).Signed(service.Rsa, Rs256);

        CallerView who = (await Caller(token).GetAsync("/v1/keys/self")).As<CallerView>();

        Assert.Equal(("Ida at the desk", "garden-lights", OfficeSource.OfPerson(service.Shared.Address, "u-17"), null), (who.Name, who.Organisation, who.Source, who.Role));
        Assert.DoesNotContain("u-17", who.Source!, StringComparison.Ordinal);
        Assert.Equal($"{service.Shared.Address}#u-17", who.KeyId);
        Assert.Equal(Roles.ScopesOf(Role.Office).Order(), who.Scopes.Order());
        Assert.Equal(1, (await new Device(Caller(token), who.Source!).TellAsync(Some.SiteOpened())).Recorded);
        Approved.Same("Tokens", "rotate", await Caller(token).PostAsync("/v1/keys/self/rotate"));
    }

    [Fact]
    public async Task A_person_of_a_crew_is_no_device_and_posts_nothing()
    {
        string token = (Good() with { Roles = (string[])["lighting-crew"] }).Signed(service.Rsa, Rs256);

        Assert.Null((await Caller(token).GetAsync("/v1/keys/self")).As<CallerView>().Source);
        Assert.Equal(HttpStatusCode.Forbidden, (await Caller(token).PostAsync("/v1/events", "[]", Envelope.BatchMediaType)).Status);
    }

    [Fact]
    public async Task A_role_may_be_one_word_and_our_own_where_none_are_mapped()
    {
        string token = (Good() with { Issuer = service.Own.Address, Organisation = null, Roles = "third-party" }).Signed(service.OwnKey, Rs256);

        CallerView who = (await Caller(token).GetAsync("/v1/keys/self")).As<CallerView>();

        Assert.Equal((PeopleService.OwnOrganisation, Role.ThirdParty), (who.Organisation, who.Role));
    }

    [Fact]
    public async Task An_issuer_of_one_organisation_cannot_name_another()
    {
        string token = (Good() with { Issuer = service.Own.Address, Roles = "office", Organisation = "garden-lights" }).Signed(service.OwnKey, Rs256);

        Assert.Equal(PeopleService.OwnOrganisation, (await Caller(token).GetAsync("/v1/keys/self")).As<CallerView>().Organisation);
    }

    [Fact]
    public async Task What_a_person_administers_is_noted_by_their_subject()
    {
        string organisation = $"org-{Guid.NewGuid():N}"[..20];
        ApiClient boss = Caller((Good() with { Organisation = organisation, Roles = (string[])["lighting-boss"] }).Signed(service.Rsa, Rs256));

        KeyView made = (await boss.PostAsync("/v1/keys", new { name = "k", role = "third-party" })).Expect(HttpStatusCode.Created).As<KeyView>();

        ActDone act = Assert.Single((await boss.ReadAsync<Page<ActDone>>("/v1/audit")).Items);
        Assert.Equal((AdministrativeAct.KeyMade, made.Id), (act.Act, act.Target));
        Assert.Equal(new Actor(ActorKind.Person, $"{service.Shared.Address}#u-17", "Ida at the desk"), act.By);
    }

    [Fact]
    public async Task Within_the_stated_skew_clocks_may_differ_and_no_further()
    {
        foreach ((Token token, bool taken) in ((Token, bool)[])
                 [
                     (Good() with { Begins = TimeSpan.FromMinutes(-20), Ends = TimeSpan.FromSeconds(-50) }, true),
                     (Good() with { Begins = TimeSpan.FromSeconds(50) }, true),
                     (Good() with { Begins = TimeSpan.FromMinutes(-20), Ends = TimeSpan.FromSeconds(-61) }, false),
                     (Good() with { Begins = TimeSpan.FromSeconds(61) }, false),
                 ])
            Assert.Equal(taken ? HttpStatusCode.OK : HttpStatusCode.Unauthorized, (await ReadAsync(token.Signed(service.Rsa, Rs256))).Status);
    }

    [Fact]
    public async Task Whatever_is_wrong_with_a_token_the_answer_is_one_and_the_same()
    {
        foreach ((string name, string token) in Wrong())
        {
            Answer answer = await ReadAsync(token);

            Assert.True(answer.Status == HttpStatusCode.Unauthorized, $"{name}: {answer.Status} {answer.Text}");
            Approved.Same("Tokens", name is "three empty parts" or "no JSON" ? "no token" : "not taken", answer);
        }
    }

    [Fact]
    public async Task A_token_that_names_no_organisation_or_no_role_opens_nothing()
    {
        foreach (Token token in (Token[])[Good() with { Organisation = null }, Good() with { Organisation = "Not A Name" }, Good() with { Organisation = "*DEFAULT*" }])
            Approved.Same("Tokens", "no organisation", await ReadAsync(token.Signed(service.Rsa, Rs256)));
        foreach (object? roles in (object?[])[null, (string[])["brass-band"], "office", (string[])[], 7])
            Approved.Same("Tokens", "no role", await ReadAsync((Good() with { Roles = roles }).Signed(service.Rsa, Rs256)));
    }

    [Fact]
    public async Task Rolled_keys_are_fetched_and_withdrawn_ones_are_taken_no_longer()
    {
        Assert.Equal(HttpStatusCode.OK, (await ReadAsync(Good().Signed(service.Rsa, Rs256))).Status);
        RsaSecurityKey rolled = SigningKeys.Rsa("r2");
        service.Shared.Serve(rolled, service.Curve);
        try
        {
            await Eventually.IsSoAsync(
                async () => (await ReadAsync(Good().Signed(rolled, Rs256))).Status == HttpStatusCode.OK, "the new key to be fetched");
            Assert.Equal(HttpStatusCode.Unauthorized, (await ReadAsync(Good().Signed(service.Rsa, Rs256))).Status);
        }
        finally
        {
            service.Shared.Serve(service.Rsa, service.Curve);
            await Eventually.IsSoAsync(
                async () => (await ReadAsync(Good().Signed(service.Rsa, Rs256))).Status == HttpStatusCode.OK, "the old key to be back");
        }
    }

    [Fact]
    public async Task Whom_a_file_of_secrets_names_is_refused_without_a_start_and_taken_again_when_it_is_gone()
    {
        string leaving = (Good() with { Subject = "u-leaves", Ends = TimeSpan.FromHours(1) }).Signed(service.Rsa, Rs256);
        string stays = (Good() with { Ends = TimeSpan.FromHours(1) }).Signed(service.Rsa, Rs256);
        string file = Path.Combine(service.SecretsFolder, "Access__Issuers__0__Refused__7"), away = $"{service.SecretsFolder}-away";
        Assert.Equal(HttpStatusCode.OK, (await ReadAsync(leaving)).Status);

        await File.WriteAllTextAsync(file, "u-leaves\n", TestContext.Current.CancellationToken);
        Assert.Equal((HttpStatusCode.Unauthorized, HttpStatusCode.OK), await LaterAsync());
        // Another provider's person of that name is somebody else.
        File.Move(file, Path.Combine(service.SecretsFolder, "Access__Issuers__1__Refused__7"));
        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.OK), await LaterAsync());
        await File.WriteAllTextAsync(file, "u-leaves", TestContext.Current.CancellationToken);
        Assert.Equal((HttpStatusCode.Unauthorized, HttpStatusCode.OK), await LaterAsync());
        // A folder that is away for a moment lets nobody in.
        Directory.Move(service.SecretsFolder, away);
        Assert.Equal((HttpStatusCode.Unauthorized, HttpStatusCode.OK), await LaterAsync());
        Directory.Move(away, service.SecretsFolder);
        File.Delete(file);
        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.OK), await LaterAsync());

        async Task<(HttpStatusCode Leaving, HttpStatusCode Stays)> LaterAsync()
        {
            service.Clock.Advance(Service.Access.People.Refusals.LookEvery);
            return ((await ReadAsync(leaving)).Status, (await ReadAsync(stays)).Status);
        }
    }

    [Fact]
    public async Task No_token_reaches_a_log_line_or_an_answer()
    {
        string good = Good().Signed(service.Rsa, Rs256);
        string bad = (Good() with { Audience = "somebody-else" }).Signed(service.Rsa, Rs256);

        string said = (await ReadAsync(good)).Text + (await ReadAsync(bad)).Text;

        foreach (string part in new[] { good, bad }.SelectMany(token => token.Split('.').Skip(1)))
        {
            Assert.DoesNotContain(part, said, StringComparison.Ordinal);
            Assert.DoesNotContain(service.Log.All, line => line.Text.Contains(part, StringComparison.Ordinal));
        }
    }

    private IEnumerable<(string Name, string Token)> Wrong()
    {
        string good = Good().Signed(service.Rsa, Rs256);
        string[] parts = good.Split('.');
        RSAParameters rsa = service.Rsa.Rsa.ExportParameters(false);
        yield return ("expired", (Good() with { Begins = TimeSpan.FromHours(-2), Ends = TimeSpan.FromHours(-1) }).Signed(service.Rsa, Rs256));
        yield return ("not yet valid", (Good() with { Begins = TimeSpan.FromHours(1), Ends = TimeSpan.FromHours(2) }).Signed(service.Rsa, Rs256));
        yield return ("for ever", (Good() with { Ends = null }).Signed(service.Rsa, Rs256));
        yield return ("for somebody else", (Good() with { Audience = "somebody-else" }).Signed(service.Rsa, Rs256));
        yield return ("for nobody", (Good() with { Audience = (string[])[] }).Signed(service.Rsa, Rs256));
        yield return ("of an unknown issuer", (Good() with { Issuer = "https://elsewhere.example" }).Signed(service.Rsa, Rs256));
        yield return ("of another known issuer", (Good() with { Issuer = service.Own.Address }).Signed(service.Rsa, Rs256));
        yield return ("of a person who is refused", (Good() with { Subject = "u-gone" }).Signed(service.Rsa, Rs256));
        yield return ("refused by its id", (Good() with { Id = "stolen-token" }).Signed(service.Rsa, Rs256));
        yield return ("of nobody", (Good() with { Subject = null }).Signed(service.Rsa, Rs256));
        yield return ("signed by a key that is not served", Good().Signed(SigningKeys.Rsa("r1"), Rs256));
        yield return ("signed by a key of no name", Good().Signed(SigningKeys.Rsa("unknown"), Rs256));
        foreach (string word in (string[])["none", "None", "NONE", "nOnE"]) yield return ($"not signed: {word}", Good().Unsigned(word));
        yield return ("signature cut off", $"{parts[0]}.{parts[1]}.");
        yield return ("signature of another token", $"{parts[0]}.{(Good() with { Subject = "u-18" }).Signed(service.Rsa, Rs256).Split('.')[1]}.{parts[2]}");
        // The public key, in every form in which a careless reader might take it for a secret.
        foreach (byte[] secret in (byte[][])
                 [service.Rsa.Rsa.ExportSubjectPublicKeyInfo(), service.Rsa.Rsa.ExportRSAPublicKey(), rsa.Modulus!,
                     Encoding.ASCII.GetBytes(service.Rsa.Rsa.ExportSubjectPublicKeyInfoPem())])
            yield return ("HMAC with the public key", Good().Signed(new SymmetricSecurityKey(secret) { KeyId = "r1" }, SecurityAlgorithms.HmacSha256));
        yield return ("an elliptic curve under the name of an RSA key", Good().Signed(SigningKeys.EllipticCurve("r1"), SecurityAlgorithms.EcdsaSha256));
        yield return ("three empty parts", "..");
        yield return ("no JSON", "a.b.c");
    }

    private Token Good() => new() { Issuer = service.Shared.Address, Now = service.Clock.Now, Organisation = "garden-lights" };

    private ApiClient Caller(string token) => service.Anybody.With(token);

    private Task<Answer> ReadAsync(string token) => Caller(token).GetAsync("/v1/circuits");
}
