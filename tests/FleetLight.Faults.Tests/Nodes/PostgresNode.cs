using System.Diagnostics;
using System.Globalization;
using System.Runtime.Versioning;
using FleetLight.Testing.Service;
using Npgsql;

namespace FleetLight.Faults.Tests.Nodes;

/// <summary>A PostgreSQL server of a test's own, which the test may kill, starve and set up as it likes.</summary>
[SupportedOSPlatform("linux")]
internal sealed class PostgresNode : IAsyncDisposable
{
    private readonly string folder;
    private string server = "";

    private PostgresNode(string folder) => this.folder = folder;

    private static string Script => Path.Combine(Repository.Root, "deploy", "private-postgres");

    private string Cluster => Path.Combine(
        File.Exists(Path.Combine(folder, "cluster-path")) ? File.ReadAllText(Path.Combine(folder, "cluster-path")).Trim() : folder, "cluster");

    /// <summary>Where it listens.</summary>
    public int Port => new NpgsqlConnectionStringBuilder(server).Port;

    /// <summary>Makes a server in a folder, and runs it.</summary>
    public static async Task<PostgresNode> StartAsync(string folder)
    {
        PostgresNode node = new(folder);
        await node.StartAsync();
        node.server = (await Commands.RunAsync(Script, "connection", folder)).Trim();
        return node;
    }

    /// <summary>Runs it again after its end.</summary>
    public Task StartAsync() => Commands.RunAsync(Script, "start", folder);

    /// <summary>A fresh database, by its connection string.</summary>
    public async Task<string> NewDatabaseAsync()
    {
        string name = $"test_{Guid.NewGuid():N}";
        await using NpgsqlConnection connection = new(server + ";Pooling=false");
        await connection.OpenAsync();
        await using NpgsqlCommand command = new($"create database {name}", connection);
        await command.ExecuteNonQueryAsync();
        return new NpgsqlConnectionStringBuilder(server) { Database = name, IncludeErrorDetail = true }.ConnectionString;
    }

    /// <summary>Kills the whole server as a power cut would: no process of it ends in good order.</summary>
    public async Task KillAsync()
    {
        // The first one before those that it would otherwise mourn and replace.
        int[] pids = [Postmaster(), .. ChildrenOf(Postmaster())];
        foreach (int pid in pids) Kill(pid);
        await Eventually.IsSoAsync(() => !pids.Any(IsAlive), "the server's processes to be gone");
    }

    /// <summary>Whether it runs.</summary>
    public bool Runs => File.Exists(Path.Combine(Cluster, "postmaster.pid")) && IsAlive(Postmaster());

    /// <summary>Changes a setting of the running server.</summary>
    public async Task SetAsync(string setting, string value)
    {
        // The server reads this file last. The role of the tests is no superuser, so the file is written past the server.
        await File.AppendAllTextAsync(Path.Combine(Cluster, "postgresql.auto.conf"), $"{setting} = '{value}'\n");
        await Commands.RunAsync("kill", "-HUP", Postmaster().ToString(CultureInfo.InvariantCulture));
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (Runs) await Commands.RunAsync(Script, "stop", folder);
        string cluster = Cluster;
        Directory.Delete(folder, true);
        string own = Path.GetDirectoryName(cluster)!;
        if (own != folder && Directory.Exists(own)) Directory.Delete(own, true);
    }

    private int Postmaster() =>
        int.Parse(File.ReadLines(Path.Combine(Cluster, "postmaster.pid")).First(), CultureInfo.InvariantCulture);

    private static IEnumerable<int> ChildrenOf(int parent)
    {
        foreach (string path in Directory.EnumerateDirectories("/proc"))
        {
            if (int.TryParse(Path.GetFileName(path), NumberStyles.None, CultureInfo.InvariantCulture, out int pid) && ParentOf(pid) == parent)
                yield return pid;
        }
    }

    private static int? ParentOf(int pid) => StatOf(pid) is { Length: > 1 } stat ? int.Parse(stat[1], CultureInfo.InvariantCulture) : null;

    // A process that has ended and waits for its parent to notice is not alive.
    private static bool IsAlive(int pid) => StatOf(pid) is { Length: > 0 } stat && stat[0] is not ("Z" or "X");

    // What follows the name, which stands in brackets and may hold anything: state, parent, …
    private static string[]? StatOf(int pid)
    {
        try
        {
            string text = File.ReadAllText($"/proc/{pid}/stat");
            return text[(text.LastIndexOf(')') + 2)..].Split(' ');
        }
        catch (Exception gone) when (gone is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    private static void Kill(int pid)
    {
        try
        {
            using Process process = Process.GetProcessById(pid);
            process.Kill();
        }
        catch (Exception gone) when (gone is ArgumentException or InvalidOperationException)
        {
            // It ended by itself a moment ago.
        }
    }
}
