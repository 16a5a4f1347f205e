using FleetLight.Office.Shell.Keys;

namespace FleetLight.Office.Dossiers;

/// <summary>The names of devices by their sources, as far as the key may read them.</summary>
public sealed class Whoiswho
{
    private readonly Dictionary<string, string> names = new(StringComparer.Ordinal);

    /// <summary>Reads them; where the key may not list devices, none is known.</summary>
    public static async Task<Whoiswho> ReadAsync(OfficeSession session, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(session);
        var who = new Whoiswho();
        if (!session.May("assign-sites")) return who;
        await foreach (var device in session.Client.ListAsync<Named>("v1/devices?limit=500", 2000, cancel))
            if (device.Name is { } name) who.names[device.Source] = name;
        return who;
    }

    /// <summary>The name of a device; none where it is not known.</summary>
    public string? NameOf(string source) => names.GetValueOrDefault(source);

    private sealed record Named
    {
        public string Source { get; init; } = "";

        public string? Name { get; init; }
    }
}
