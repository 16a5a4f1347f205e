using System.IO.Compression;
using System.Text;
using System.Text.Json;
using Npgsql;

namespace FleetLight.Endurance.Tests.Upgrade;

/// <summary>What an earlier version of the service left behind: its database, and what it answered about it.</summary>
/// <param name="OfficeKey">Key of the organisation's office; the organisation exists in this dump only.</param>
/// <param name="DeviceKeys">Keys of its devices.</param>
/// <param name="Answers">What the earlier version answered, as lines.</param>
/// <param name="Receipts">Receipts of its devices.</param>
/// <param name="Facts">Every fact in the store.</param>
/// <param name="Beside">What it answered about visits, photos, keys, devices, acts and facts; none of a version that had not all of them.</param>
/// <param name="Secrets">What signs its webhooks, by their ids; none of a version that kept them readable in its database.</param>
internal sealed record Dumped(
    string OfficeKey, string[] DeviceKeys, string[] Answers, string[] Receipts, string[] Facts, string[]? Beside = null, Dictionary<string, string>? Secrets = null)
{
    private const string Folder = "tests/upgrade";

    /// <summary>The versions of which a dump is kept.</summary>
    public static IEnumerable<int> Versions => Directory.GetFiles(Repository.At(Folder), "version-*.sql.gz")
        .Select(file => int.Parse(Path.GetFileName(file).Split('-', '.')[1], System.Globalization.CultureInfo.InvariantCulture)).Order();

    /// <summary>Reads what the version answered.</summary>
    public static Dumped Of(int version) => JsonSerializer.Deserialize<Dumped>(Unzip($"{Folder}/version-{version}.answers.json.gz"))!;

    /// <summary>Keeps what a version answered.</summary>
    public void Keep(string path)
    {
        using GZipStream zip = new(File.Create(path), CompressionLevel.SmallestSize);
        JsonSerializer.Serialize(zip, this);
    }

    /// <summary>Puts the version's database into an empty one.</summary>
    public static async Task RestoreAsync(int version, string connection)
    {
        // Lines that begin with a backslash speak to psql and not to the server.
        string[] lines = Unzip($"{Folder}/version-{version}.sql.gz").Split('\n');
        string sql = string.Join('\n', lines.Where(line => !line.StartsWith('\\')));
        await using NpgsqlConnection opened = new(connection);
        await opened.OpenAsync();
        await using NpgsqlCommand command = new(sql, opened) { CommandTimeout = 120 };
        await command.ExecuteNonQueryAsync();
    }

    private static string Unzip(string path)
    {
        using StreamReader reader = new(new GZipStream(File.OpenRead(Repository.At(path)), CompressionMode.Decompress), Encoding.UTF8);
        return reader.ReadToEnd();
    }
}
