using System.Net;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Limits;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Limits;

public sealed class RateTests(NarrowService service) : IClassFixture<NarrowService>
{
    [Fact]
    public async Task A_key_that_reads_too_often_waits_and_no_other_does()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        ApiClient wild = service.Anybody.With(await organisation.MakeKeyAsync("read-status", "post-events"));
        ApiClient calm = service.Anybody.With(await organisation.MakeKeyAsync("read-status"));

        Answer[] answers = await Task.WhenAll(Enumerable.Range(0, 60).Select(_ => wild.GetAsync("/v1/circuits")));

        Answer[] refused = [.. answers.Where(answer => answer.Status == HttpStatusCode.TooManyRequests)];
        Assert.InRange(refused.Length, 20, 50);
        Assert.All(refused, answer => Assert.InRange(answer.Headers.RetryAfter!.Delta!.Value, TimeSpan.FromSeconds(1), TimeSpan.FromSeconds(2)));
        Approved.Same("Rates", "too many", refused[0]);
        Assert.Equal(HttpStatusCode.OK, (await calm.GetAsync("/v1/circuits")).Status);
        Assert.Equal(HttpStatusCode.BadRequest, (await wild.PostAsync("/v1/events", "[]", Envelope.BatchMediaType)).Status);
        await Eventually.IsSoAsync(async () => (await wild.GetAsync("/v1/circuits")).Status == HttpStatusCode.OK, "the key to be let in again");
    }

    [Fact]
    public async Task Guessing_codes_is_limited_by_address()
    {
        Answer[] answers = await Task.WhenAll(Enumerable.Range(0, 20).Select(
            index => service.Anybody.PostAsync("/v1/enrolments/exchange", new { code = $"0000-0000-00{index:00}" })));

        Assert.Equal(5, answers.Count(answer => answer.Status == HttpStatusCode.Forbidden));
        Assert.Equal(15, answers.Count(answer => answer.Status == HttpStatusCode.TooManyRequests));
    }

    [Theory]
    [InlineData("203.0.113.7", "203.0.113.7")]
    [InlineData("::ffff:203.0.113.7", "203.0.113.7")]
    [InlineData("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::")]
    public void An_address_counts_for_its_network(string address, string network) =>
        Assert.Equal(network, RateGate.NetworkOf(IPAddress.Parse(address)));
}

/// <summary>A service with narrow limits.</summary>
public sealed class NarrowService : FleetService
{
    /// <inheritdoc/>
    protected override IEnumerable<KeyValuePair<string, string?>> Settings => new Dictionary<string, string?>
    {
        ["RateLimits:Read:PerSecond"] = "2",
        ["RateLimits:Read:Burst"] = "20",
        ["RateLimits:Exchange:Burst"] = "5",
        ["RateLimits:Exchange:PerSecond"] = "0.01",
    };
}
