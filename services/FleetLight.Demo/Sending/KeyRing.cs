using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Sending;

/// <summary>A key of the demo, as it is kept.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Use">What it is for, in plain words.</param>
/// <param name="Source">The device that it speaks for.</param>
/// <param name="Scopes">What it allows.</param>
/// <param name="Key">The key.</param>
internal sealed record DemoKey(string Name, string Use, string? Source, IReadOnlyList<string> Scopes, string Key);

/// <summary>The keys of the demo's organisation, in <c>demo-keys.json</c> of the data folder, readable by its owner only.</summary>
internal sealed record KeyRing
{
    /// <summary>Name of the file.</summary>
    public const string FileName = "demo-keys.json";

    /// <summary>Name of the office's key.</summary>
    public const string Office = "office";

    /// <summary>Name of the dashboard's key.</summary>
    public const string Dashboard = "dashboard";

    private const string PostEvents = "post-events";
    private const string ReadStatus = "read-status";
    private const string ReadAsBuilt = "read-as-built";
    private const string Administer = "administer";

    /// <summary>The organisation.</summary>
    public required string Organisation { get; init; }

    /// <summary>Where the service is.</summary>
    public required string Url { get; init; }

    /// <summary>The keys.</summary>
    public required IReadOnlyList<DemoKey> Keys { get; init; }

    /// <summary>The key of that name.</summary>
    public string this[string name] => Keys.First(key => key.Name == name).Key;

    /// <summary>The key of a device.</summary>
    public string Of(Device device) => Keys.First(key => key.Source == device.Source).Key;

    /// <summary>Finds the keys of an earlier run, and makes those that are missing.</summary>
    public static async Task<KeyRing> PrepareAsync(Api api, DemoOptions options, string organisation, CancellationToken cancel)
    {
        var path = Path.Combine(options.DataFolder, FileName);
        var ring = await PrivateFile.ReadAsync<KeyRing>(path, cancel)
            ?? new KeyRing { Organisation = organisation, Url = "", Keys = [] };
        if (ring.Organisation != organisation)
            throw new DemoFailure($"{path} holds keys of the organisation {ring.Organisation}, not of {organisation}.");

        if (ring.Url != options.Url.ToString())
        {
            ring = ring with { Url = options.Url.ToString() };
            await PrivateFile.WriteAsync(path, ring, cancel);
        }

        foreach (var wanted in Wanted())
        {
            if (ring.Keys.Any(key => key.Name == wanted.Name)) continue;
            // The first key makes the office's, which alone then makes the others: as an administrator would do it.
            var maker = ring.Keys.Count > 0 ? ring[Office] : await PrivateFile.FirstLineAsync(options.FirstKeyFile, cancel);
            var made = await api.MakeKeyAsync(maker, new { wanted.Name, wanted.Source, wanted.Scopes, organisation }, cancel);
            ring = ring with { Keys = [.. ring.Keys, wanted with { Key = made }] };
            // Kept key by key: one that was made and not kept would be lost for good.
            await PrivateFile.WriteAsync(path, ring, cancel);
        }

        return ring;
    }

    private static IEnumerable<DemoKey> Wanted() =>
    [
        new(Office, "the office: everything in the organisation", "urn:fleetlight:office", [PostEvents, ReadStatus, ReadAsBuilt, Administer], ""),
        new(Dashboard, "a dashboard: reads status", null, [ReadStatus], ""),
        new("third-party", "a third party: reads as-built data", null, [ReadAsBuilt], ""),
        .. Crews.Devices.Select(device => new DemoKey(device.Name, $"the device {device.Name}", device.Source, [PostEvents, ReadStatus], "")),
    ];
}
