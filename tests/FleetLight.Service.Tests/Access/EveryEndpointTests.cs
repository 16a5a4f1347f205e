using System.Net;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Testing.Service;
using Microsoft.IdentityModel.Tokens;
using Xunit;

namespace FleetLight.Service.Tests.Access;

/// <summary>
/// Every operation of the OpenAPI document with every wrong credential. The list of operations is the running service's own, so
/// a new endpoint is tried without anybody thinking of it.
/// </summary>
public sealed class EveryEndpointTests(PeopleService service) : IClassFixture<PeopleService>
{
    [Fact]
    public async Task Whoever_is_not_let_in_is_told_so_and_no_more()
    {
        Owner owner = await Owner.AddAsync(service);
        (string Name, string? Header)[] wrong = [.. await WrongAsync()];
        int tried = 0;
        foreach (Operation operation in await GuardedAsync())
        {
            foreach ((string name, string? header) in wrong)
            {
                Answer answer = await operation.CallAsync(service.Anybody, parameter => owner.Parameter(operation.Path, parameter), header);

                Assert.True(answer.Status == HttpStatusCode.Unauthorized, $"{operation} with {name}: {answer.Status} {answer.Text}");
                Assert.Equal(ProblemTypes.KeyMissing, answer.As<Problem>().Type);
                Assert.DoesNotContain(Owner.Mark, answer.Text, StringComparison.Ordinal);
                tried++;
            }
        }

        Assert.True(tried > 900, $"Only {tried} pairs were tried.");
    }

    [Fact]
    public async Task Each_role_is_let_in_where_its_scopes_say_and_nowhere_else()
    {
        Owner owner = await Owner.AddAsync(service);
        foreach (Role role in Enum.GetValues<Role>())
        {
            foreach (Operation operation in await GuardedAsync())
            {
                // An organisation of its own: what it may do, it does to nothing of the owner's.
                Organisation other = await service.AddOrganisationAsync();
                bool may = operation.Scope == Operation.AnyScope
                    || Roles.Allow(Roles.ScopesOf(role), Enum.GetValues<Scope>().Single(scope => Problems.ScopeName(scope) == operation.Scope));

                Answer byKey = await operation.CallAsync(service.Anybody.With(await KeyAsync(other, role)), parameter => owner.Parameter(operation.Path, parameter));

                if (may) Assert.True(byKey.Status is not (HttpStatusCode.Forbidden or HttpStatusCode.Unauthorized), $"{role} {operation}: {byKey.Status}");
                else Assert.Equal((HttpStatusCode.Forbidden, ProblemTypes.ScopeMissing), (byKey.Status, byKey.As<Problem>().Type));
                Assert.True((int)byKey.Status < 500, $"{role} {operation}: {byKey.Text}");
                AssertShowsNothing(role, operation, byKey);
            }
        }
    }

    [Fact]
    public async Task A_token_of_another_organisation_sees_nothing_of_this_one()
    {
        Owner owner = await Owner.AddAsync(service);
        Token boss = new() { Issuer = service.Shared.Address, Now = service.Clock.Now, Organisation = "somebody-else", Roles = (string[])["lighting-boss"] };
        ApiClient foreign = service.Anybody.With(boss.Signed(service.Rsa, SecurityAlgorithms.RsaSha256));
        foreach (Operation operation in await GuardedAsync())
        {
            Answer answer = await operation.CallAsync(foreign, parameter => owner.Parameter(operation.Path, parameter));

            Assert.True((int)answer.Status < 500, $"{operation}: {answer.Text}");
            if (operation.Path.Contains('{', StringComparison.Ordinal) && answer.Status == HttpStatusCode.OK) AssertShowsNothing(Role.Administrator, operation, answer);
            if (operation.Method != "GET" && operation.Path.Contains('{', StringComparison.Ordinal))
            {
                // Nobody posts as a device with a token.
                bool refused = operation.Scope == "post-events" ? answer.Status is HttpStatusCode.Forbidden : answer.Status is HttpStatusCode.NotFound or HttpStatusCode.BadRequest;
                Assert.True(refused, $"{operation}: {answer.Status}");
            }
        }
    }

    private async Task<IEnumerable<(string, string?)>> WrongAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        string revoked = await organisation.MakeKeyAsync("read-status");
        Assert.Equal(HttpStatusCode.OK, (await service.Anybody.With(revoked).GetAsync("/v1/circuits")).Status);
        await organisation.Office.DeleteAsync($"/v1/keys/{revoked.Split('.')[0]}");
        string good = organisation.Office.Key!;
        string replaced = await organisation.MakeKeyAsync("read-status");
        string next = (await service.Anybody.With(replaced).PostAsync("/v1/keys/self/rotate")).As<RotatedKey>().Key;
        Assert.Equal(HttpStatusCode.OK, (await service.Anybody.With(next).GetAsync("/v1/circuits")).Status);
        Token token = new() { Issuer = service.Shared.Address, Now = service.Clock.Now, Organisation = organisation.Name, Roles = (string[])["lighting-boss"] };
        string signed = token.Signed(service.Rsa, SecurityAlgorithms.RsaSha256);
        string code = (string)(await organisation.Office.PostAsync("/v1/enrolments", new { name = "van", role = "device" })).Json["code"]!;
        return
        [
            ("nothing", null),
            ("another scheme", "Basic dXNlcjpwYXNz"),
            ("a bearer of nothing", "Bearer "),
            ("a key without its scheme", good),
            ("two keys", $"Bearer {good}, Bearer {good}"),
            ("nonsense", "Bearer nonsense"),
            ("a key's public part", $"Bearer {good.Split('.')[0]}."),
            ("another secret", $"Bearer {good.Split('.')[0]}.{revoked.Split('.')[1]}"),
            ("a cut key", $"Bearer {good[..^1]}"),
            ("a key in capitals", $"Bearer {good.ToUpperInvariant()}"),
            ("the key's hash", $"Bearer {good.Split('.')[0]}.{KeyText.Hash(good)}"),
            ("a revoked key", $"Bearer {revoked}"),
            ("a replaced key", $"Bearer {replaced}"),
            ("a one-time code", $"Bearer {code}"),
            ("a very long key", $"Bearer {new string('a', 20_000)}"),
            ("quotes", "Bearer 'a'.\"b\""),
            ("a token out of date", $"Bearer {(token with { Begins = TimeSpan.FromDays(-2), Ends = TimeSpan.FromDays(-1) }).Signed(service.Rsa, SecurityAlgorithms.RsaSha256)}"),
            ("a token for somebody else", $"Bearer {(token with { Audience = "x" }).Signed(service.Rsa, SecurityAlgorithms.RsaSha256)}"),
            ("a token of an unknown issuer", $"Bearer {(token with { Issuer = "https://elsewhere.example" }).Signed(service.Rsa, SecurityAlgorithms.RsaSha256)}"),
            ("a token signed by somebody else", $"Bearer {token.Signed(SigningKeys.Rsa("r1"), SecurityAlgorithms.RsaSha256)}"),
            ("a token without a signature", $"Bearer {token.Unsigned()}"),
            ("a token signed with the public key", $"Bearer {token.Signed(
                new SymmetricSecurityKey(service.Rsa.Rsa.ExportSubjectPublicKeyInfo()) { KeyId = "r1" }, SecurityAlgorithms.HmacSha256)}"),
            ("a token with a part too many", $"Bearer {signed}.x.y"),
        ];
    }

    private static async Task<string> KeyAsync(Organisation organisation, Role role)
    {
        string? source = Roles.ScopesOf(role).Contains(Scope.PostEvents) ? "urn:device:own" : null;
        return (await organisation.Office.PostAsync("/v1/keys", new { name = "k", role, source })).Expect(HttpStatusCode.Created).As<KeyView>().Key!;
    }

    private static void AssertShowsNothing(Role role, Operation operation, Answer answer)
    {
        // The rules are the same for everybody, and their words are English.
        if (answer.Status is not (HttpStatusCode.OK or HttpStatusCode.Created) || operation.Path == "/v1/rules") return;
        Assert.False(answer.Text.Contains(Owner.Mark, StringComparison.Ordinal), $"{role} {operation} shows another organisation: {answer.Text}");
    }

    private async Task<Operation[]> GuardedAsync() =>
        [.. (await Operation.AllAsync(service.Anybody)).Where(operation => operation.Scope is not null)];
}
