namespace FleetLight.Demo.Sending;

/// <summary>What the service answered for the facts of a device, added up over all runs.</summary>
internal sealed record DeviceCount
{
    /// <summary>Facts sent, those sent twice counted twice.</summary>
    public int Sent { get; init; }

    /// <summary>Recorded.</summary>
    public int Recorded { get; init; }

    /// <summary>Known already.</summary>
    public int Duplicates { get; init; }

    /// <summary>Refused and set aside.</summary>
    public int Refused { get; init; }

    /// <summary>How far the service last found the device's clock ahead, s.</summary>
    public double? ClockErrorSeconds { get; init; }
}

/// <summary>
/// What makes a later run tell the same story: the seed and the day that its dates are counted from, in
/// <c>demo-seed.json</c> of the data folder.
/// </summary>
internal sealed record LoadRecord
{
    /// <summary>Name of the file.</summary>
    public const string FileName = "demo-seed.json";

    /// <summary>The seed where none is asked for.</summary>
    public const long UsualSeed = 1;

    /// <summary>Seed.</summary>
    public required long Seed { get; init; }

    /// <summary>The day of the first load.</summary>
    public required DateOnly Anchor { get; init; }

    /// <summary>What became of the facts, by device.</summary>
    public IReadOnlyDictionary<string, DeviceCount> Devices { get; init; } = new Dictionary<string, DeviceCount>();

    /// <summary>The record with what the service answered to a batch.</summary>
    public LoadRecord With(string device, Contracts.Wire.BatchReceipt receipt)
    {
        var before = Devices.GetValueOrDefault(device, new DeviceCount());
        return this with
        {
            Devices = new SortedDictionary<string, DeviceCount>(Devices.ToDictionary(), StringComparer.Ordinal)
            {
                [device] = new DeviceCount
                {
                    Sent = before.Sent + receipt.Outcomes.Count,
                    Recorded = before.Recorded + receipt.Recorded,
                    Duplicates = before.Duplicates + receipt.Duplicates,
                    Refused = before.Refused + receipt.Refused,
                    ClockErrorSeconds = receipt.ClockErrorSeconds ?? before.ClockErrorSeconds,
                },
            },
        };
    }

    /// <summary>The record of an earlier run, or a new one that is kept at once.</summary>
    public static async Task<LoadRecord> PrepareAsync(DemoOptions options, TimeProvider clock, CancellationToken cancel)
    {
        var path = PathIn(options);
        if (await PrivateFile.ReadAsync<LoadRecord>(path, cancel) is { } earlier)
        {
            return options.Seed is null || options.Seed == earlier.Seed
                ? earlier
                : throw new DemoFailure($"{options.DataFolder} holds the demo of seed {earlier.Seed}. Leave --seed out, or load seed {options.Seed} into another folder.");
        }

        var fresh = new LoadRecord
        {
            Seed = options.Seed ?? UsualSeed,
            Anchor = DateOnly.FromDateTime(clock.GetUtcNow().UtcDateTime),
        };
        await fresh.KeepAsync(options, cancel);
        return fresh;
    }

    /// <summary>Keeps it in the data folder.</summary>
    public Task KeepAsync(DemoOptions options, CancellationToken cancel) => PrivateFile.WriteAsync(PathIn(options), this, cancel);

    private static string PathIn(DemoOptions options) => Path.Combine(options.DataFolder, FileName);
}
