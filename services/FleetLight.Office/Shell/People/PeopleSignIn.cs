using Microsoft.JSInterop;

namespace FleetLight.Office.Shell.People;

/// <summary>A provider at which people sign in, as the service tells it to this page.</summary>
/// <param name="Name">What people call it.</param>
/// <param name="Authority">Its address.</param>
/// <param name="Issuer">How it calls itself.</param>
/// <param name="ClientId">How it knows this page.</param>
/// <param name="Scope">What is asked of it.</param>
/// <param name="Token">Which of its tokens is for this service: a member of its answer.</param>
public sealed record Provider(string Name, string Authority, string Issuer, string ClientId, string Scope, string Token);

/// <summary>What a sign-in came to.</summary>
/// <param name="Back">Where the person was before, below the page's own address.</param>
/// <param name="Token">The token; none where there is a problem.</param>
/// <param name="Problem">Why there is none, in plain words.</param>
public sealed record SignedIn(string Back, string? Token, string? Problem);

/// <summary>Signing in at a provider (<c>wwwroot/sign-in.js</c>), beside keys.</summary>
public sealed class PeopleSignIn(IJSRuntime browser)
{
    private IJSObjectReference? module;

    /// <summary>Whether the tab's token came from a sign-in.</summary>
    public bool IsSignedIn { get; private set; }

    /// <summary>The providers; none where the service has none for its pages.</summary>
    public async Task<IReadOnlyList<Provider>> ProvidersAsync() => await (await ModuleAsync()).InvokeAsync<Provider[]>("providers");

    /// <summary>Leaves for a provider; answers what is in the way, none where the browser is on its way.</summary>
    /// <param name="provider">The provider.</param>
    /// <param name="back">Where to come back to, below the page's own address.</param>
    public async Task<string?> BeginAsync(Provider provider, string back) => await (await ModuleAsync()).InvokeAsync<string?>("begin", provider, back);

    /// <summary>What came of it, where the browser has just come back from a provider; none where it has not.</summary>
    public async Task<SignedIn?> FinishAsync()
    {
        var script = await ModuleAsync();
        if (!await script.InvokeAsync<bool>("isReturning"))
        {
            IsSignedIn = await script.InvokeAsync<bool>("signedIn");
            return null;
        }

        var outcome = await script.InvokeAsync<SignedIn>("finish");
        IsSignedIn = outcome.Token is not null;
        return outcome;
    }

    /// <summary>When the token should be renewed; none where it cannot be.</summary>
    public async Task<TimeSpan?> RenewInAsync() =>
        await (await ModuleAsync()).InvokeAsync<double?>("renewIn") is { } seconds ? TimeSpan.FromSeconds(seconds) : null;

    /// <summary>Another token in place of the one that ends; none where the provider gives none.</summary>
    public async Task<string?> RenewAsync() => await (await ModuleAsync()).InvokeAsync<string?>("renew");

    /// <summary>Forgets the sign-in.</summary>
    public async Task ForgetAsync()
    {
        IsSignedIn = false;
        await (await ModuleAsync()).InvokeVoidAsync("forget");
    }

    private async Task<IJSObjectReference> ModuleAsync() => module ??= await browser.InvokeAsync<IJSObjectReference>("import", "./sign-in.js");
}
