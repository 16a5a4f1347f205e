using System.Net;
using FleetLight.Service.Hosting;
using FleetLight.Testing.Service;
using Microsoft.Extensions.Configuration;
using Xunit;

namespace FleetLight.Service.Tests.Hosting;

/// <summary>A service with two small pages in a folder of their own.</summary>
public class ServiceWithPages : FleetService
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

/// <summary>The same, with a provider at which people sign in.</summary>
public sealed class ServiceWithSignIn : ServiceWithPages
{
    /// <inheritdoc/>
    protected override IEnumerable<KeyValuePair<string, string?>> Settings =>
    [
        .. base.Settings,
        new("Access:Issuers:0:Authority", "https://people.example/realm"),
        new("Access:Issuers:0:Audience", "fleetlight"),
        new("Access:Issuers:0:SignIn:ClientId", "office-page"),
        new("Access:Issuers:0:SignIn:Origins:0", "https://tokens.example"),
        new("Access:Issuers:1:Authority", "https://machines.example"),
        new("Access:Issuers:1:Audience", "fleetlight"),
    ];
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

public sealed class SignInOfferTests(ServiceWithSignIn service, ServiceWithPages other) : IClassFixture<ServiceWithSignIn>, IClassFixture<ServiceWithPages>
{
    [Fact]
    public async Task The_office_page_is_told_where_people_sign_in_and_may_reach_no_more_than_that()
    {
        Answer told = await service.Anybody.GetAsync("/office/sign-in.json");

        Assert.Equal(
            """[{"name":"your firm","authority":"https://people.example/realm","issuer":"https://people.example/realm","""
            + """ "clientId":"office-page","scope":"openid profile","token":"access_token"}]""".TrimStart(),
            told.Text);
        string office = Assert.Single((await service.Anybody.GetAsync("/office/")).Headers.GetValues("Content-Security-Policy"));
        Assert.Contains("; connect-src 'self' https://people.example https://tokens.example; ", office, StringComparison.Ordinal);
        Assert.DoesNotContain("connect-src", Assert.Single((await service.Anybody.GetAsync("/field/")).Headers.GetValues("Content-Security-Policy")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Where_no_provider_is_set_none_is_offered()
    {
        Assert.Equal("[]", (await other.Anybody.GetAsync("/office/sign-in.json")).Text);
        Assert.DoesNotContain("connect-src", Assert.Single((await other.Anybody.GetAsync("/office/")).Headers.GetValues("Content-Security-Policy")), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("SignIn:ClientId", "")]
    [InlineData("SignIn:Token", "any")]
    [InlineData("SignIn:Origins:0", "https://tokens.example/path")]
    public void Settings_that_cannot_be_are_told_at_the_start(string name, string value)
    {
        IConfiguration configuration = new ConfigurationBuilder().AddInMemoryCollection(new Dictionary<string, string?>
        {
            ["Access:Issuers:0:Authority"] = "https://people.example",
            ["Access:Issuers:0:Audience"] = "fleetlight",
            ["Access:Issuers:0:SignIn:ClientId"] = "office-page",
            [$"Access:Issuers:0:{name}"] = value,
        }).Build();

        InvalidOperationException refused = Assert.Throws<InvalidOperationException>(() => FleetLight.Service.Access.People.IssuerOptions.Of(configuration));
        Assert.Contains(name.Split(':')[1], refused.Message, StringComparison.Ordinal);
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
