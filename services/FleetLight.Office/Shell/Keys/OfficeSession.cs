using FleetLight.Client;
using FleetLight.Client.Devices;
using FleetLight.Client.Reading;
using FleetLight.Office.Shell.Live;
using FleetLight.Office.Shell.People;
using Microsoft.AspNetCore.Components;

namespace FleetLight.Office.Shell.Keys;

/// <summary>Where the page stands with its key.</summary>
public enum SessionState
{
    /// <summary>It looks whether there is a key, and whether it is taken.</summary>
    Asking,

    /// <summary>There is no key, or it is not taken.</summary>
    Closed,

    /// <summary>The service did not answer whether the key is taken.</summary>
    NoAnswer,

    /// <summary>The key is taken.</summary>
    Open,
}

/// <summary>
/// The key of this tab, what it allows, and the calls that are made with it. Everything that asks the service goes through
/// <see cref="Client"/>; a key that ends in the middle closes the session from wherever it is noticed.
/// </summary>
public sealed class OfficeSession : IDisposable
{
    private readonly KeyStore keys;
    private readonly LiveFeed feed;
    private readonly PeopleSignIn people;
    private readonly NavigationManager addresses;
    private readonly TimeProvider clock;
    private ITimer? renewal;
    private string? key;

    public OfficeSession(HttpClient http, KeyStore keys, PeopleSignIn people, LiveFeed feed, NavigationManager addresses, TimeProvider clock)
    {
        this.keys = keys;
        (this.people, this.addresses, this.clock) = (people, addresses, clock);
        this.feed = feed;
        feed.Ended += EndedAsync;
        Client = new FleetLightClient(
            new ClientOptions
            {
                Address = http.BaseAddress!,
                Key = () => key,
                TryTimeout = TimeSpan.FromSeconds(20),
                MostRetries = 1,
                FirstPause = TimeSpan.FromMilliseconds(300),
                LongestPause = TimeSpan.FromSeconds(5),
                // A person looks at the page and it tries again by itself: it must not stop trying.
                TriesBeforeStop = 1000,
            },
            http, clock);
    }

    /// <summary>The calls.</summary>
    public FleetLightClient Client { get; }

    /// <summary>Where it stands.</summary>
    public SessionState State { get; private set; } = SessionState.Asking;

    /// <summary>Why it was closed or does not open, in plain words.</summary>
    public string? Why { get; private set; }

    /// <summary>Whom the key speaks for, and what it allows.</summary>
    public KeyHolder? Holder { get; private set; }

    /// <summary>Is told when the state changes.</summary>
    public event Action? Changed;

    /// <summary>Whether the key allows something, by the contract's word of the scope.</summary>
    public bool May(string scope) => Holder?.Scopes is { } scopes && (scopes.Contains(scope) || (scopes.Contains("administer") && scope != "post-events"));

    /// <summary>Whether it was opened by a sign-in and not by a key.</summary>
    public bool IsSignedIn => people.IsSignedIn;

    /// <summary>Looks for a key and opens with it; with a token where the browser has just come back from a provider.</summary>
    public async Task StartAsync()
    {
        if (await people.FinishAsync() is { } outcome)
        {
            addresses.NavigateTo(outcome.Back, new NavigationOptions { ReplaceHistoryEntry = true });
            if (outcome.Token is { } token) await OpenAsync(token);
            else Set(SessionState.Closed, outcome.Problem);
            return;
        }

        if (await keys.FindAsync() is { } found) await OpenAsync(found);
        else Set(SessionState.Closed, null);
    }

    /// <summary>Opens with a key: asks what it allows and from where the change feed goes on, before anything is read.</summary>
    public async Task OpenAsync(string given)
    {
        given = KeyStore.Clean(given);
        if (!KeyStore.CanBe(given))
        {
            await CloseAsync(SessionWords.NotKnown);
            return;
        }

        key = given;
        Set(SessionState.Asking, null);
        try
        {
            Holder = await Client.Enrolment.HolderAsync();
            var from = (await Client.Changes.PageAsync(ChangeApi.Now, 1)).Next;
            await keys.KeepAsync(given);
            feed.Follow(Client, from);
            await RenewSoonAsync();
            Set(SessionState.Open, null);
        }
        catch (ProblemException refused) when (refused.Status is 401 or 403)
        {
            await CloseAsync(refused.Status == 401 ? SessionWords.NotKnown : SessionWords.MayNotRead);
        }
        catch (FleetLightException)
        {
            await keys.KeepAsync(given);
            Set(SessionState.NoAnswer, null);
        }
    }

    /// <summary>Tries the key that is kept once more.</summary>
    public Task TryAgainAsync() => key is { } kept ? OpenAsync(kept) : StartAsync();

    /// <summary>Forgets the key.</summary>
    /// <param name="why">Why, in plain words; none where the person asked for it.</param>
    public async Task CloseAsync(string? why)
    {
        feed.Stop();
        renewal?.Dispose();
        key = null;
        Holder = null;
        await keys.ForgetAsync();
        await people.ForgetAsync();
        Set(SessionState.Closed, why);
    }

    /// <summary>What a failed call means: closes the session where the key is not taken any more.</summary>
    /// <returns>What to tell, in plain words; none where the session was closed.</returns>
    public async Task<string?> FailedAsync(FleetLightException failed)
    {
        if (failed is ProblemException { Status: 401 })
        {
            if (State == SessionState.Open) await CloseAsync(IsSignedIn ? SessionWords.SignInEnded : SessionWords.Ended);
            return null;
        }

        return SessionWords.Of(failed);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        feed.Ended -= EndedAsync;
        renewal?.Dispose();
        Client.Dispose();
    }

    // Where the provider renews tokens, one follows the other while the page is open; where it does not, the page closes when it ends.
    private async Task RenewSoonAsync()
    {
        renewal?.Dispose();
        renewal = people.IsSignedIn && await people.RenewInAsync() is { } due ? clock.CreateTimer(_ => RenewAsync(), null, due, Timeout.InfiniteTimeSpan) : null;
    }

    private async void RenewAsync()
    {
        if (State != SessionState.Open || await people.RenewAsync() is not { } renewed) return;
        key = renewed;
        await keys.KeepAsync(renewed);
        await RenewSoonAsync();
    }

    private async void EndedAsync(ProblemException refused) => await FailedAsync(refused);

    private void Set(SessionState state, string? why)
    {
        (State, Why) = (state, why);
        Changed?.Invoke();
    }
}
