using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Npgsql;

namespace FleetLight.Benchmarks;

/// <summary>The service in a process of its own, on a database of its own, with one more path: a fixed answer of 1.5 KB.</summary>
internal sealed class Server : IAsyncDisposable
{
    /// <summary>Path of the fixed answer.</summary>
    public const string FixedPath = "/fixed";

    private readonly Process process;
    private readonly string folder;
    private bool isStopped;

    private Server(Process process, string folder, int port, string connection)
    {
        this.process = process;
        this.folder = folder;
        Port = port;
        Connection = connection;
        Database = NpgsqlDataSource.Create(connection);
    }

    /// <summary>Its database.</summary>
    public NpgsqlDataSource Database { get; }

    /// <summary>Its port.</summary>
    public int Port { get; }

    /// <summary>How to reach its database.</summary>
    public string Connection { get; }

    /// <summary>Its first key.</summary>
    public string FirstKey => File.ReadAllText(Path.Combine(folder, FirstKey_)).Trim();

    private const string FirstKey_ = Service.Access.FirstKey.FileName;

    /// <summary>Runs as the service: what the child process does.</summary>
    public static async Task ServeAsync(string[] args)
    {
        var text = new byte[1536];
        Array.Fill(text, (byte)'x');
        await using var app = ServiceHost.Build(args);
        app.MapGet(FixedPath, (HttpContext context) =>
        {
            context.Response.ContentType = "application/json";
            context.Response.ContentLength = text.Length;
            return context.Response.Body.WriteAsync(text, context.RequestAborted).AsTask();
        }).Needs(Scope.ReadStatus);
        await app.RunAsync();
    }

    /// <summary>Starts the service on a new database of the server.</summary>
    public static async Task<Server> StartAsync(string server, Dictionary<string, string>? settings = null)
    {
        var connection = await MakeDatabaseAsync(server);
        var port = FreePort();
        var folder = Directory.CreateTempSubdirectory("fleetlight-bench-").FullName;
        var start = new ProcessStartInfo(Environment.ProcessPath!, $"serve --urls http://127.0.0.1:{port}")
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["ConnectionStrings__FleetLight"] = connection;
        start.Environment["FLEETLIGHT_DATA"] = folder;
        // What is measured here is the service and not what it lets one caller ask for.
        foreach (var kind in (string[])["Intake", "Read", "Calculation", "Administration", "Anonymous"])
        {
            start.Environment[$"RateLimits__{kind}__PerSecond"] = "10000000";
            start.Environment[$"RateLimits__{kind}__Burst"] = "10000000";
        }
        foreach (var (name, value) in settings ?? []) start.Environment[name] = value;
        var process = Process.Start(start)!;
        var log = new StreamWriter(Path.Combine(folder, "log")) { AutoFlush = true };
        process.OutputDataReceived += (_, line) => log.WriteLine(line.Data);
        process.ErrorDataReceived += (_, line) => log.WriteLine(line.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        var running = new Server(process, folder, port, connection);
        using var http = new HttpClient();
        for (var tries = 0; tries < 300; tries++)
        {
            if (process.HasExited) throw new InvalidOperationException($"The service ended: see {folder}/log");
            try
            {
                if ((await http.GetAsync(new Uri($"http://127.0.0.1:{port}/health/ready"))).IsSuccessStatusCode) return running;
            }
            catch (HttpRequestException)
            {
                // It does not listen yet.
            }

            await Task.Delay(100);
        }

        throw new InvalidOperationException($"The service did not become ready: see {folder}/log");
    }

    /// <summary>A new, empty database.</summary>
    public static async Task<string> MakeDatabaseAsync(string server)
    {
        var name = $"bench_{Guid.NewGuid():N}";
        await using var admin = NpgsqlDataSource.Create(server);
        await using (var command = admin.CreateCommand($"create database {name}")) await command.ExecuteNonQueryAsync();
        return new NpgsqlConnectionStringBuilder(server) { Database = name }.ConnectionString;
    }

    /// <summary>Waits until the projection has taken in every event.</summary>
    public async Task CaughtUpAsync(TimeSpan? within = null)
    {
        var watch = Stopwatch.StartNew();
        while (true)
        {
            if (watch.Elapsed > (within ?? TimeSpan.FromMinutes(3))) throw new TimeoutException("The projection does not catch up.");
            await using var command = Database.CreateCommand(
                $"""
                select coalesce((select max(seq_id) from {Tables.Schema}.mt_events), 0)
                     - coalesce((select last_seq_id from {Tables.Schema}.mt_event_progression where name = 'works:All'), 0)
                """);
            if ((long)(await command.ExecuteScalarAsync())! == 0) return;
            await Task.Delay(20);
        }
    }

    /// <summary>Number of events in the store.</summary>
    public async Task<long> EventsAsync()
    {
        await using var command = Database.CreateCommand($"select count(*) from {Tables.Schema}.mt_events");
        return (long)(await command.ExecuteScalarAsync())!;
    }

    /// <summary>Processor time of the service and of the database's processes that serve it, where the system tells (Linux), s.</summary>
    public (double Service, double Database) ProcessorSeconds()
    {
        process.Refresh();
        var name = new NpgsqlConnectionStringBuilder(Connection).Database!;
        var database = 0.0;
        foreach (var folder in OperatingSystem.IsLinux() ? Directory.EnumerateDirectories("/proc") : [])
        {
            try
            {
                if (!File.ReadAllText($"{folder}/cmdline").Contains(name, StringComparison.Ordinal)) continue;
                var stat = File.ReadAllText($"{folder}/stat");
                var fields = stat[(stat.LastIndexOf(')') + 2)..].Split(' ');
                // User and system time in clock ticks of a hundredth of a second.
                database += (long.Parse(fields[11], System.Globalization.CultureInfo.InvariantCulture)
                    + long.Parse(fields[12], System.Globalization.CultureInfo.InvariantCulture)) / 100.0;
            }
            catch (Exception gone) when (gone is IOException or UnauthorizedAccessException)
            {
                // Not a process, or one that has ended.
            }
        }

        return (process.TotalProcessorTime.TotalSeconds, database);
    }

    /// <summary>Memory of the service, bytes.</summary>
    public long WorkingSet
    {
        get
        {
            process.Refresh();
            return process.WorkingSet64;
        }
    }

    /// <summary>Ends the service and keeps its database.</summary>
    public async Task StopAsync()
    {
        if (process.HasExited) return;
        isStopped = true;
        process.Kill();
        await process.WaitForExitAsync();
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        var ended = process.HasExited && !isStopped;
        await StopAsync();
        process.Dispose();
        if (ended) Console.Error.WriteLine($"The service ended by itself: see {folder}/log");
        else Directory.Delete(folder, true);
        await Database.DisposeAsync();
        var name = new NpgsqlConnectionStringBuilder(Connection).Database;
        await using var admin = NpgsqlDataSource.Create(new NpgsqlConnectionStringBuilder(Connection) { Database = "postgres" }.ConnectionString);
        await using var command = admin.CreateCommand($"drop database if exists {name} with (force)");
        await command.ExecuteNonQueryAsync();
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
