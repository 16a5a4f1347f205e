using System.Collections.Frozen;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Access.People;

/// <summary>
/// Persons (<c>sub</c>) and single tokens (<c>jti</c>) that are not taken any more, although a provider has signed them
/// (<c>Access__Issuers__0__Refused__0</c> and so on): for the time that a token lives on after somebody has gone, or it was stolen. Those
/// named by files of secrets are read again while the node runs.
/// </summary>
public sealed class Refusals
{
    /// <summary>How often the files are looked at, at most.</summary>
    public static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(5);

    private readonly string folder;
    private readonly TimeProvider clock;
    private readonly ILogger log;
    private readonly FrozenSet<(string Issuer, string Word)> settings;
    private readonly Lock looking = new();
    private FrozenSet<(string Issuer, string Word)> files = [];
    private DateTimeOffset lookedAt;

    /// <summary>Reads the settings, and the files for the first time.</summary>
    public Refusals(IConfiguration configuration, TimeProvider clock, ILogger<Refusals> log)
    {
        ArgumentNullException.ThrowIfNull(configuration);
        (folder, this.clock, this.log) = (SecretFiles.Folder(configuration), clock, log);
        lookedAt = clock.GetUtcNow();
        var named = Read();
        files = Words(named);
        // What a file says stands in the settings too; it goes with the file.
        settings = configuration.GetSection(IssuerOptions.Section).GetChildren()
            .SelectMany(issuer => issuer.GetSection("Refused").GetChildren()
                .Where(word => !string.IsNullOrWhiteSpace(word.Value) && !named.ContainsKey((issuer.Key, word.Key)))
                .Select(word => (issuer.Key, word.Value!)))
            .ToFrozenSet();
    }

    /// <summary>Whether a provider's person or token is refused.</summary>
    /// <param name="issuer">The provider's number in the settings.</param>
    /// <param name="word">The person, or the token.</param>
    public bool Has(string issuer, string word)
    {
        LookAgain();
        return settings.Contains((issuer, word)) || Volatile.Read(ref files).Contains((issuer, word));
    }

    private void LookAgain()
    {
        lock (looking)
        {
            var now = clock.GetUtcNow();
            if ((now - lookedAt).Duration() < LookEvery) return;
            lookedAt = now;
            try
            {
                // A folder that is away for a moment lets nobody in who was refused.
                if (Directory.Exists(folder)) Volatile.Write(ref files, Words(Read()));
            }
            catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
            {
                log.LogWarning(unreadable, "The files that name who is refused cannot be read; what they said last holds");
            }
        }
    }

    private static FrozenSet<(string Issuer, string Word)> Words(Dictionary<(string Issuer, string Key), string> named) =>
        named.Where(each => each.Value.Length > 0).Select(each => (each.Key.Issuer, each.Value)).ToFrozenSet();

    // Files are named like the variables: Access__Issuers__0__Refused__0.
    private Dictionary<(string Issuer, string Key), string> Read()
    {
        var named = new Dictionary<(string, string), string>();
        if (!Directory.Exists(folder)) return named;
        foreach (var file in Directory.EnumerateFiles(folder))
        {
            if (Path.GetFileName(file).Split("__") is not [var access, var issuers, var issuer, var refused, var key]
                || !$"{access}:{issuers}".Equals(IssuerOptions.Section, StringComparison.OrdinalIgnoreCase)
                || !refused.Equals("Refused", StringComparison.OrdinalIgnoreCase))
                continue;
            named[(issuer, key)] = File.ReadAllText(file).Trim();
        }

        return named;
    }
}
