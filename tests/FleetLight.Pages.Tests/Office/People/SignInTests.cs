using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Service;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace FleetLight.Pages.Tests.Office.People;

/// <summary>A service that takes the tokens of a provider, at which people sign in on its office page.</summary>
public sealed class ServiceForPeople : IAsyncLifetime
{
    private StartedService? process;

    /// <summary>Where it is.</summary>
    public Uri Url => process!.Url;

    internal PeopleProvider Provider { get; } = new();

    /// <summary>The organisation of the person.</summary>
    internal Organisation Organisation { get; private set; } = null!;

    /// <inheritdoc/>
    public async ValueTask InitializeAsync()
    {
        process = await StartedService.StartAsync(TestContext.Current.CancellationToken, new Dictionary<string, string>
        {
            ["Access__Issuers__0__Authority"] = Provider.Address,
            ["Access__Issuers__0__Audience"] = "fleetlight",
            ["Access__Issuers__0__AllowHttp"] = "true",
            ["Access__Issuers__0__SignIn__ClientId"] = PeopleProvider.Client,
            ["Access__Issuers__0__SignIn__Name"] = "Harbour Lights",
        });
        Organisation = await Organisation.CreateAsync(await process.HostAsync());
        Provider.Organisation = Organisation.Name;
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (process is not null) await process.DisposeAsync();
        await Provider.DisposeAsync();
    }
}

/// <summary>People sign in at their own provider; keys go on to be taken beside it.</summary>
public sealed class SignInTests(ServiceForPeople service) : IClassFixture<ServiceForPeople>
{
    [Fact]
    public async Task A_person_signs_in_comes_back_to_where_they_were_and_signs_out()
    {
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenAsync("/office/circuits?phase=designed");
        await Button(page, "Sign in with Harbour Lights").WaitForAsync();
        await page.IsSoundOnAsync("office-sign-in", Screen.Desktop, Screen.Phone);

        await Button(page, "Sign in with Harbour Lights").ClickAsync();

        await page.GetByRole(AriaRole.Heading, new() { Name = "Circuits", Level = 1 }).WaitForAsync();
        await page.ReadAsync();
        Assert.Null(service.Provider.Wrong);
        Assert.Equal("/office/circuits?phase=designed", new Uri(page.Url).PathAndQuery);
        Assert.Equal(0, await page.EvaluateAsync<int>("localStorage.length"));
        Assert.DoesNotContain("verifier", await page.EvaluateAsync<string>("sessionStorage.getItem('fleetlight-sign-in')"), StringComparison.Ordinal);
        // The token is the tab's until it is closed, as a key is.
        await page.ReloadAsync();
        await page.StartedAsync();
        await page.ReadAsync();
        await Button(page, "Sign out of this page").ClickAsync();
        await Button(page, "Sign in with Harbour Lights").WaitForAsync();
        Assert.Equal(0, await page.EvaluateAsync<int>("sessionStorage.length"));
    }

    [Fact]
    public async Task A_token_is_renewed_before_it_ends()
    {
        service.Provider.Lasts = 8;
        try
        {
            await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
            var page = await window.OpenAsync("/office/");
            await Button(page, "Sign in with Harbour Lights").ClickAsync();
            await page.GetByRole(AriaRole.Heading, new() { Name = "The fleet", Level = 1 }).WaitForAsync();
            var first = await page.EvaluateAsync<string>("sessionStorage.getItem('fleetlight-key')");

            await page.WaitForFunctionAsync("first => sessionStorage.getItem('fleetlight-key') !== first", first, new() { Timeout = 60_000 });

            await page.TurnToAsync("circuits", "Circuits");
            await page.ReadAsync();
        }
        finally
        {
            service.Provider.Lasts = 300;
        }
    }

    [Fact]
    public async Task A_sign_in_that_is_refused_says_so_and_a_key_opens_the_page()
    {
        service.Provider.Refuses = true;
        try
        {
            await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
            var page = await window.OpenAsync("/office/alerts");
            await Button(page, "Sign in with Harbour Lights").ClickAsync();

            await page.GetByText("The sign-in was refused or given up.").WaitForAsync();
            await page.IsSoundAsync();
            await page.GetByLabel("Key").FillAsync(service.Organisation.Office.Key!);
            await Button(page, "Open").ClickAsync();
            await page.GetByRole(AriaRole.Heading, new() { Name = "Alerts", Level = 1 }).WaitForAsync();
            await Expect(Button(page, "Forget the key")).ToBeVisibleAsync();
        }
        finally
        {
            service.Provider.Refuses = false;
        }
    }

    [Theory]
    [InlineData("?code=abc&state=def")]
    [InlineData("")]
    public async Task A_code_that_nobody_asked_for_here_is_not_taken(string query)
    {
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var given = service.Provider.Given;
        var page = await window.OpenAsync($"/office/signed-in{query}");

        await page.GetByText("does not belong to a sign-in that was begun here").WaitForAsync();
        Assert.Equal("/office/", new Uri(page.Url).PathAndQuery);
        Assert.Equal(given, service.Provider.Given);
    }

    private static ILocator Button(IPage page, string name) => page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });
}
