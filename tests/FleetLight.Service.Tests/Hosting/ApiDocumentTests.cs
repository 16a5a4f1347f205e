using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Hosting;

/// <summary>The OpenAPI document, as it is sent: it is made once, and the same for everybody.</summary>
public sealed class ApiDocumentTests(FleetService service) : IClassFixture<FleetService>
{
    private const string Path = "/openapi/v1.json";

    [Fact]
    public async Task It_is_the_same_for_everybody_by_whatever_address_they_come()
    {
        Answer[] answers = await Task.WhenAll(
            service.Anybody.GetAsync(Path), service.Host.GetAsync(Path), service.Anybody.GetAsync(Path, ("Host", "lights.example")),
            service.Anybody.GetAsync(Path, ("X-Forwarded-Prefix", "/lights"), ("Accept-Language", "de")));

        Assert.All(answers, answer => Assert.Equal((HttpStatusCode.OK, "application/json"), (answer.Status, answer.MediaType)));
        Assert.All(answers, answer => Assert.True(answers[0].Body.AsSpan().SequenceEqual(answer.Body)));
        Assert.Single(answers.Select(answer => answer.Headers.ETag).Distinct());
        // Paths are below the root of whatever serves the document.
        Assert.Equal(["/"], answers[0].Json["servers"]!.AsArray().Select(server => server!["url"]!.GetValue<string>()));
        Assert.StartsWith("3.1.", answers[0].Json["openapi"]!.GetValue<string>(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Whoever_has_it_is_not_sent_it_again()
    {
        Answer whole = (await service.Anybody.GetAsync(Path)).Expect(HttpStatusCode.OK);
        string tag = whole.Headers.ETag!.ToString();

        Answer known = await service.Anybody.GetAsync(Path, ("If-None-Match", tag));
        Assert.Equal((HttpStatusCode.NotModified, tag), (known.Status, known.Headers.ETag!.ToString()));
        Assert.Empty(known.Body);
        Assert.Equal(HttpStatusCode.OK, (await service.Anybody.GetAsync(Path, ("If-None-Match", "\"another\""))).Status);
    }

    [Fact]
    public async Task Every_service_of_a_version_sends_the_same()
    {
        await using RunningService second = await service.StartSecondAsync();

        Answer here = await service.Anybody.GetAsync(Path);
        Answer there = await second.Api.GetAsync(Path);

        Assert.True(JsonNode.DeepEquals(here.Json, there.Json));
        Assert.Equal(here.Headers.ETag, there.Headers.ETag);
    }
}
