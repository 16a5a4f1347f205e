using FleetLight.Testing.Service;

namespace FleetLight.FieldAgent.Tests.Agents;

/// <summary>The real service as a process, with an organisation of this test run.</summary>
public sealed class FieldService : IAsyncLifetime
{
    private HttpClient? http;
    private StartedService? process;

    /// <summary>Where it listens.</summary>
    public Uri Url => process!.Url;

    /// <summary>The service's process.</summary>
    internal StartedService Process => process!;

    /// <summary>The organisation.</summary>
    internal Organisation Organisation { get; private set; } = null!;

    /// <inheritdoc/>
    public async ValueTask InitializeAsync()
    {
        // The tests' codes all come from one address; how guessing is limited is the service's tests' part.
        Environment.SetEnvironmentVariable("RateLimits__Exchange__PerSecond", "100");
        Environment.SetEnvironmentVariable("RateLimits__Exchange__Burst", "100");
        process = await StartedService.StartAsync(CancellationToken.None);
        http = new HttpClient { BaseAddress = process.Url };
        var first = (await File.ReadAllTextAsync(Path.Combine(process.DataFolder, "first-key"))).Trim();
        Organisation = await Organisation.CreateAsync(new ApiClient(http, first));
    }

    /// <summary>A key for a device of its own, which reads the status too.</summary>
    internal async Task<(string Key, string Source)> AddDeviceAsync()
    {
        var source = $"/devices/{Guid.NewGuid():N}";
        string[] scopes = ["post-events", "read-status", "read-as-built"];
        var answer = await Organisation.Office.PostAsync("/v1/keys", new { name = source, scopes, source });
        return (answer.Expect(System.Net.HttpStatusCode.Created).Json["key"]!.GetValue<string>(), source);
    }

    /// <summary>A one-time code of the office for a device, a new one where no source is named.</summary>
    internal async Task<(string Code, string Address, string Source)> IssueCodeAsync(string? source = null, params string[] sites)
    {
        var made = (await Organisation.Office.PostAsync("/v1/enrolments", new { name = "van 3 tablet", role = "device", source, sites }))
            .Expect(System.Net.HttpStatusCode.Created).Json;
        return ((string)made["code"]!, (string)made["address"]!, (string)made["source"]!);
    }

    /// <summary>The values of the readings of a circuit that the service has, each as often as it has it, once it has taken in all it has.</summary>
    internal async Task<IReadOnlyList<double>> FoundAsync(string circuit, int atLeast)
    {
        List<double> values = [];
        await Eventually.IsSoAsync(async () =>
        {
            values = await ReadAsync(circuit);
            return values.Count >= atLeast;
        }, $"{atLeast} readings of {circuit}");
        return values;
    }

    /// <summary>The values of the readings of a circuit that the service has now.</summary>
    internal async Task<List<double>> ReadAsync(string circuit)
    {
        List<double> values = [];
        string? path = $"/v1/circuits/{circuit}/readings?limit=1000";
        while (path is not null)
        {
            var page = (await Organisation.Office.GetAsync(path)).Expect(System.Net.HttpStatusCode.OK);
            values.AddRange(page.Json["items"]!.AsArray().Select(reading => (double)reading!["value"]!));
            path = Pages.NextOf(page);
        }

        return values;
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        http?.Dispose();
        if (process is not null) await process.DisposeAsync();
    }
}
