using FleetLight.Testing.Service;

namespace FleetLight.Pages.Tests.Browsing;

/// <summary>One service process for all tests of an assembly; each test has an organisation of its own in it.</summary>
public sealed class RunningService : IAsyncLifetime
{
    private static readonly string[] Kinds = ["Intake", "Read", "Calculation", "Administration", "Anonymous", "Exchange"];

    private StartedService? process;

    /// <summary>Where it is.</summary>
    public Uri Url => process!.Url;

    /// <summary>The process itself.</summary>
    public StartedService Process => process!;

    /// <summary>An organisation of a test's own.</summary>
    public async Task<Organisation> AddOrganisationAsync() => await Organisation.CreateAsync(await process!.HostAsync());

    /// <inheritdoc/>
    public async ValueTask InitializeAsync() => process = await StartedService.StartAsync(
        TestContext.Current.CancellationToken,
        // All tests come from one address.
        Kinds
            .SelectMany(kind => ((string, string)[])[($"RateLimits__{kind}__PerSecond", "10000"), ($"RateLimits__{kind}__Burst", "100000")])
            .ToDictionary(each => each.Item1, each => each.Item2));

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (process is not null) await process.DisposeAsync();
    }
}
