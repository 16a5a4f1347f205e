using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.Audit;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Limits;

/// <summary>What a proxy in front says of its caller is taken from a trusted one only.</summary>
public sealed class ProxyTests(ProxiedService proxied, FleetService direct) : IClassFixture<ProxiedService>, IClassFixture<FleetService>
{
    [Fact]
    public async Task A_trusted_proxy_is_believed_who_calls_and_how()
    {
        (Answer answer, ActDone act, EnrolmentView enrolment) = await CallAsync(proxied);

        Assert.Equal("max-age=63072000; includeSubDomains", Assert.Single(answer.Headers.GetValues("Strict-Transport-Security")));
        Assert.Equal("203.0.113.9", act.From);
        Assert.StartsWith("https://lights.example/enrol#", enrolment.Address, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nobody_else_is()
    {
        (Answer answer, ActDone act, EnrolmentView enrolment) = await CallAsync(direct);

        Assert.False(answer.Headers.Contains("Strict-Transport-Security"));
        Assert.Equal("127.0.0.1", act.From);
        Assert.StartsWith("http://127.0.0.1:", enrolment.Address, StringComparison.Ordinal);
    }

    private static async Task<(Answer, ActDone, EnrolmentView)> CallAsync(FleetService service)
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Answer answer = await organisation.Office.PostAsync(
            "/v1/enrolments", """{"name":"van 3","role":"device"}""", "application/json",
            ("X-Forwarded-For", "203.0.113.9"), ("X-Forwarded-Proto", "https"), ("X-Forwarded-Host", "lights.example"));
        ActDone act = (await organisation.Office.ReadAsync<Page<ActDone>>("/v1/audit")).Items[0];
        return (answer, act, answer.As<EnrolmentView>());
    }
}

/// <summary>A service with a trusted proxy on this machine.</summary>
public sealed class ProxiedService : FleetService
{
    /// <inheritdoc/>
    protected override IEnumerable<KeyValuePair<string, string?>> Settings => [KeyValuePair.Create<string, string?>("FLEETLIGHT_TRUSTED_PROXIES", "127.0.0.0/8, ::1/128")];
}
