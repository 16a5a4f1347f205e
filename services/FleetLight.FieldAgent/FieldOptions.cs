using System.Globalization;

namespace FleetLight.FieldAgent;

/// <summary>How the agent runs. Everything but the folder and the port can be set in the environment only.</summary>
internal sealed record FieldOptions
{
    /// <summary>Prefix of the environment's names.</summary>
    public const string Prefix = "FLEETLIGHT_FIELD_";

    /// <summary>The port of the loopback address unless another is named.</summary>
    public const int UsualPort = 5090;

    /// <summary>Where the outbox, the key and the token are kept.</summary>
    public required string Folder { get; init; }

    /// <summary>The port on the loopback address; 0 for any that is free.</summary>
    public int Port { get; init; } = UsualPort;

    /// <summary>How long one try may take, s, 0.1 to 600.</summary>
    public TimeSpan TryTimeout { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>Longest rest between tries, s, 0.1 to 86,400.</summary>
    public TimeSpan LongestPause { get; init; } = TimeSpan.FromMinutes(5);

    /// <summary>How often the service's word is asked for when nothing is sent, and sites are brought up to date, s, 0.1 to 86,400.</summary>
    public TimeSpan LookEvery { get; init; } = TimeSpan.FromMinutes(1);

    /// <summary>How long facts are kept after the service has answered for them, days, 1 to 36,500.</summary>
    public TimeSpan KeepFor { get; init; } = TimeSpan.FromDays(90);

    /// <summary>How old a key gets before another is asked for, days, 1 to 36,500.</summary>
    public TimeSpan KeyAge { get; init; } = TimeSpan.FromDays(30);

    /// <summary>What the command line and the environment say.</summary>
    /// <exception cref="ArgumentException">A value cannot be used.</exception>
    public static FieldOptions Of(string? folder, int? port, Func<string, string?> environment) => new()
    {
        Folder = Path.GetFullPath(folder ?? environment(Prefix + "DATA") ?? environment("STATE_DIRECTORY") ?? UsualFolder()),
        Port = port ?? (int)Number(environment, "PORT", UsualPort, 0, 65535),
        TryTimeout = TimeSpan.FromSeconds(Number(environment, "TRY_SECONDS", 30, 0.1, 600)),
        LongestPause = TimeSpan.FromSeconds(Number(environment, "LONGEST_PAUSE_SECONDS", 300, 0.1, 86400)),
        LookEvery = TimeSpan.FromSeconds(Number(environment, "LOOK_SECONDS", 60, 0.1, 86400)),
        KeepFor = TimeSpan.FromDays(Number(environment, "KEEP_DAYS", 90, 1, 36500)),
        KeyAge = TimeSpan.FromDays(Number(environment, "KEY_DAYS", 30, 1, 36500)),
    };

    private static double Number(Func<string, string?> environment, string name, double usual, double least, double most)
    {
        if (environment(Prefix + name) is not { Length: > 0 } text) return usual;
        return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && value >= least && value <= most
            ? value
            : throw new ArgumentException($"{Prefix}{name} is '{text}'; {least} to {most} is accepted.");
    }

    private static string UsualFolder() => Path.Combine(
        Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "fleetlight-field");
}
