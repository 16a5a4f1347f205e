using System.Net;

namespace FleetLight.Testing.Service;

/// <summary>An organisation with a key for its office; it takes part in nothing that other tests see.</summary>
public sealed class Organisation
{
    private static readonly string[] OfficeScopes = ["administer", "read-status", "read-as-built"];
    private static readonly string[] DeviceScopes = ["post-events"];
    private int _devices;

    private Organisation(string name, ApiClient office)
    {
        Name = name;
        Office = office;
    }

    /// <summary>Its name, which no other has.</summary>
    public string Name { get; }

    /// <summary>Calls with a key that may all but post events.</summary>
    public ApiClient Office { get; }

    /// <summary>Makes an organisation with the host's key, under a name that no other has where none is given.</summary>
    public static async Task<Organisation> CreateAsync(ApiClient host, string? name = null)
    {
        name ??= $"org-{Guid.NewGuid():N}"[..24];
        string key = await MakeKeyAsync(host, new { name = "office", scopes = OfficeScopes, organisation = name }).ConfigureAwait(false);
        return new Organisation(name, host.With(key));
    }

    /// <summary>The same organisation where a service answers now.</summary>
    public Organisation At(ApiClient anybody) => new(Name, anybody.With(Office.Key));

    /// <summary>Adds a device. Sources are named by letters in the order of the devices, where none is given.</summary>
    public async Task<Device> AddDeviceAsync(string? source = null)
    {
        source ??= $"urn:device:{(char)('a' + Interlocked.Increment(ref _devices) - 1)}";
        string key = await MakeKeyAsync(Office, new { name = source, scopes = DeviceScopes, source }).ConfigureAwait(false);
        return new Device(Office.With(key), source);
    }

    /// <summary>Makes a key with these scopes; one that posts events speaks for a device of its own.</summary>
    public Task<string> MakeKeyAsync(params string[] scopes) => MakeKeyAsync(
        Office, new { name = "some key", scopes, source = scopes.Contains("post-events") ? $"urn:device:{Guid.NewGuid()}" : null });

    private static async Task<string> MakeKeyAsync(ApiClient by, object wanted) =>
        (await by.PostAsync("/v1/keys", wanted).ConfigureAwait(false)).Expect(HttpStatusCode.Created).Json["key"]!.GetValue<string>();
}
