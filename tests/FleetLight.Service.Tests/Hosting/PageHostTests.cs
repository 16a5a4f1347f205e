using System.Net;
using FleetLight.Service.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Hosting;

/// <summary>A service with two small pages in a folder of their own.</summary>
public sealed class ServiceWithPages : FleetService
{
    private readonly DirectoryInfo folder = MakePages();

    /// <inheritdoc/>
    protected override IEnumerable<KeyValuePair<string, string?>> Settings => [new("Pages:Folder", folder.FullName)];

    private static DirectoryInfo MakePages()
    {
        var folder = Directory.CreateTempSubdirectory("fleetlight-pages-");
        File.WriteAllText(Path.Combine(folder.FullName, "secret.txt"), "not for anybody");
        foreach (string page in (string[])["field", "office"])
        {
            Directory.CreateDirectory(Path.Combine(folder.FullName, page));
            File.WriteAllText(Path.Combine(folder.FullName, page, "index.html"), $"<!DOCTYPE html><script type=\"importmap\">{{}}</script><h1>{page}</h1>");
            File.WriteAllText(Path.Combine(folder.FullName, page, "part.css"), "h1 { margin: 0; }");
        }

        return folder;
    }
}

/// <summary>A service that was built without its pages.</summary>
public sealed class ServiceWithoutPages : FleetService
{
    /// <inheritdoc/>
    protected override IEnumerable<KeyValuePair<string, string?>> Settings => [new("Pages:Folder", Path.Combine(Path.GetTempPath(), "fleetlight-no-pages"))];
}

public sealed class PageHostTests(ServiceWithPages service) : IClassFixture<ServiceWithPages>
{
    [Theory]
    [InlineData("/", "/office/")]
    [InlineData("/enrol", "/field/enrol")]
    [InlineData("/enrol/", "/field/enrol")]
    [InlineData("/office", "/office/")]
    public async Task Addresses_that_people_have_lead_to_the_pages(string from, string to)
    {
        using HttpClient http = new(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = service.Running.Address };
        using HttpResponseMessage answer = await http.GetAsync(new Uri(from, UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.Equal(to, answer.Headers.Location!.OriginalString);
    }

    [Theory]
    [InlineData("/office/", "office")]
    [InlineData("/office/circuits/k1", "office")]
    [InlineData("/field/enrol", "field")]
    public async Task An_address_of_a_page_is_answered_with_its_index(string path, string page)
    {
        Answer answer = await service.Anybody.GetAsync(path);

        Assert.Equal(HttpStatusCode.OK, answer.Status);
        Assert.Contains($"<h1>{page}</h1>", answer.Text, StringComparison.Ordinal);
        string policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
        Assert.StartsWith("default-src 'self'; script-src 'self' 'wasm-unsafe-eval' 'sha256-", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("'unsafe-inline' 'self'", policy, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_page_that_did_not_change_is_not_sent_again()
    {
        Answer first = await service.Anybody.GetAsync("/office/");

        Answer second = await service.Anybody.SendAsync(HttpMethod.Get, "/office/", headers: [("If-None-Match", first.Headers.ETag!.ToString())]);

        Assert.Equal(HttpStatusCode.NotModified, second.Status);
        Assert.Empty(second.Body);
    }

    [Theory]
    [InlineData("/office/../secret.txt")]
    [InlineData("/office/%2e%2e/secret.txt")]
    [InlineData("/office/..%2fsecret.txt")]
    [InlineData("/secret.txt")]
    [InlineData("/office/gone.js")]
    [InlineData("/overview/app.js")]
    public async Task Nothing_but_the_files_of_the_pages_is_served(string path)
    {
        Answer answer = await service.Anybody.GetAsync(path);

        Assert.DoesNotContain("not for anybody", answer.Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, answer.Status);
    }
}

public sealed class PagesLeftOutTests(ServiceWithoutPages service) : IClassFixture<ServiceWithoutPages>
{
    [Theory]
    [InlineData("/", "office")]
    [InlineData("/enrol", "field")]
    public async Task Where_a_page_was_not_built_that_is_said(string path, string page)
    {
        Answer answer = await service.Anybody.GetAsync(path);

        Assert.Equal(HttpStatusCode.NotFound, answer.Status);
        Assert.Equal("application/problem+json", answer.MediaType);
        Assert.Equal($"The {page} page was not built into this service.", answer.Json["detail"]!.GetValue<string>());
        Assert.Equal(SafeHeaders.ApiPolicy, Assert.Single(answer.Headers.GetValues("Content-Security-Policy")));
    }
}
