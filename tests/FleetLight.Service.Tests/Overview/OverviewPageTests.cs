using System.Net;
using FleetLight.Service.Hosting;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Overview;

public sealed class OverviewPageTests(FleetService service) : IClassFixture<FleetService>
{
    public static TheoryData<string, string> Files => new()
    {
        { "/", "text/html" },
        { "/index.html", "text/html" },
        { "/enrol/", "text/html" },
        { "/enrol/enrol.js", "text/javascript" },
        { "/overview/app.js", "text/javascript" },
        { "/overview/base.css", "text/css" },
        { "/overview/mark.svg", "image/svg+xml" },
    };

    [Theory]
    [MemberData(nameof(Files))]
    public async Task A_file_of_the_page_is_served_to_anybody_with_its_content_type(string path, string mediaType)
    {
        Answer answer = await service.Anybody.GetAsync(path);

        Assert.Equal(HttpStatusCode.OK, answer.Status);
        Assert.Equal(mediaType, answer.MediaType);
        Assert.NotEmpty(answer.Body);
    }

    [Theory]
    [MemberData(nameof(Files))]
    public async Task The_browser_is_told_to_load_only_what_the_service_serves(string path, string mediaType)
    {
        Answer answer = await service.Anybody.GetAsync(path);

        Assert.Equal(mediaType, answer.MediaType);
        Assert.Equal([OverviewPage.Policy], answer.Headers.GetValues("Content-Security-Policy"));
        Assert.Contains("default-src 'self';", OverviewPage.Policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", OverviewPage.Policy, StringComparison.Ordinal);
        Assert.Equal(["nosniff"], answer.Headers.GetValues("X-Content-Type-Options"));
        Assert.Equal(["no-referrer"], answer.Headers.GetValues("Referrer-Policy"));
    }

    [Fact]
    public async Task Every_file_that_the_page_names_is_served()
    {
        foreach (string name in PageFiles.NamedAddresses())
        {
            Answer answer = await service.Anybody.GetAsync(name);
            Assert.True(answer.Status == HttpStatusCode.OK, $"{name} answers {(int)answer.Status}.");
        }
    }

    [Fact]
    public async Task A_page_that_did_not_change_is_not_sent_again()
    {
        Answer first = await service.Anybody.GetAsync("/");

        Answer second = await service.Anybody.SendAsync(
            HttpMethod.Get, "/", headers: [("If-None-Match", first.Headers.ETag!.ToString())]);

        Assert.Equal(HttpStatusCode.NotModified, second.Status);
        Assert.Empty(second.Body);
    }

    [Theory]
    [InlineData("/../FleetLight.Service.dll")]
    [InlineData("/%2e%2e/FleetLight.Service.dll")]
    [InlineData("/overview/")]
    [InlineData("/overview/none.js")]
    public async Task Nothing_but_the_files_of_the_page_is_served(string path)
    {
        Answer answer = await service.Anybody.GetAsync(path);

        Assert.Equal(HttpStatusCode.NotFound, answer.Status);
    }
}
