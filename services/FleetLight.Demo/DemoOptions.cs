using System.Globalization;
using FleetLight.Demo.Sending;

namespace FleetLight.Demo;

/// <summary>What the caller asks for.</summary>
internal sealed record DemoOptions
{
    /// <summary>How to call it.</summary>
    public const string Usage = "Usage: FleetLight.Demo --url http://127.0.0.1:5080 --data FOLDER [--seed NUMBER] [--first-key FILE]";

    /// <summary>Where the service is; ends with a slash.</summary>
    public required Uri Url { get; init; }

    /// <summary>The service's data folder.</summary>
    public required string DataFolder { get; init; }

    /// <summary>The seed asked for; none where the one of an earlier run, or the usual one, will do.</summary>
    public long? Seed { get; init; }

    /// <summary>The file with the administrator's key.</summary>
    public required string FirstKeyFile { get; init; }

    /// <summary>Reads the arguments.</summary>
    /// <exception cref="DemoFailure">They are not understood.</exception>
    public static DemoOptions Parse(IReadOnlyList<string> arguments)
    {
        var given = new Dictionary<string, string>(StringComparer.Ordinal);
        for (var index = 0; index < arguments.Count; index += 2)
        {
            var name = arguments[index];
            if (name is not ("--url" or "--data" or "--seed" or "--first-key")) throw new DemoFailure($"'{name}' is not understood. {Usage}");
            if (index + 1 == arguments.Count) throw new DemoFailure($"{name} needs a value. {Usage}");
            given[name] = arguments[index + 1];
        }

        if (!given.TryGetValue("--url", out var url) || !given.TryGetValue("--data", out var folder))
            throw new DemoFailure($"--url and --data are needed. {Usage}");
        if (!Uri.TryCreate(url.TrimEnd('/') + "/", UriKind.Absolute, out var address) || address.Scheme is not ("http" or "https"))
            throw new DemoFailure($"'{url}' is not the address of a service. {Usage}");
        return new DemoOptions
        {
            Url = address,
            DataFolder = folder,
            Seed = given.TryGetValue("--seed", out var seed) ? ParseSeed(seed) : null,
            FirstKeyFile = given.GetValueOrDefault("--first-key", Path.Combine(folder, "first-key")),
        };
    }

    private static long ParseSeed(string text) =>
        long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var seed)
            ? seed
            : throw new DemoFailure($"'{text}' is not a seed: a seed is a whole number of 0 or more. {Usage}");
}
