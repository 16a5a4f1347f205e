using System.Diagnostics;
using FleetLight.Testing.Postgres;

namespace FleetLight.Testing.Service;

/// <summary>The service as a process of its own, as a user starts it, on a database of its own.</summary>
public sealed class StartedService : IAsyncDisposable
{
    private readonly TestDatabase database;
    private Process process;

    private readonly IReadOnlyDictionary<string, string> settings;

    private StartedService(TestDatabase database, string dataFolder, Uri url, IReadOnlyDictionary<string, string> settings)
    {
        this.settings = settings;
        this.database = database;
        DataFolder = dataFolder;
        Url = url;
        process = Start();
    }

    /// <summary>Its data folder, with the first key.</summary>
    public string DataFolder { get; }

    /// <summary>Where it listens.</summary>
    public Uri Url { get; }

    /// <summary>Its database.</summary>
    public string ConnectionString => database.ConnectionString;

    /// <summary>Calls it with the first key, which makes organisations.</summary>
    public async Task<ApiClient> HostAsync() =>
        new ApiClient(new HttpClient { BaseAddress = Url }, (await File.ReadAllTextAsync(Path.Combine(DataFolder, "first-key")).ConfigureAwait(false)).Trim());

    /// <summary>Starts it.</summary>
    /// <param name="cancel">Gives up.</param>
    /// <param name="settings">Settings of its own, by the names of environment variables.</param>
    public static async Task<StartedService> StartAsync(CancellationToken cancel, IReadOnlyDictionary<string, string>? settings = null)
    {
        var url = new Uri($"http://127.0.0.1:{FreePort.Find()}/");
        var running = new StartedService(
            await TestDatabase.CreateAsync(cancel), Directory.CreateTempSubdirectory("fleetlight-e2e-").FullName, url, settings ?? new Dictionary<string, string>());
        await running.ReadyAsync(cancel);
        return running;
    }

    /// <summary>Ends it as a power cut would, and starts it again.</summary>
    public async Task CutPowerAsync(CancellationToken cancel)
    {
        process.Kill();
        await process.WaitForExitAsync(cancel);
        process.Dispose();
        process = Start();
        await ReadyAsync(cancel);
    }

    /// <summary>Gives a key an end, as renewing it does, at any time: in the store, since the process has its own clock.</summary>
    /// <param name="id">Public part of the key.</param>
    /// <param name="end">When it ends.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task EndKeyAsync(string id, DateTimeOffset end, CancellationToken cancel)
    {
        await using var connection = new Npgsql.NpgsqlConnection(ConnectionString);
        await connection.OpenAsync(cancel);
        await using var command = new Npgsql.NpgsqlCommand(
            "update fleetlight.mt_doc_keyrecord set data = jsonb_set(data, '{validUntil}', to_jsonb(@end::text)) where id = @id", connection);
        command.Parameters.AddWithValue("id", id);
        command.Parameters.AddWithValue("end", end.ToString("O", System.Globalization.CultureInfo.InvariantCulture));
        if (await command.ExecuteNonQueryAsync(cancel) != 1) throw new InvalidOperationException($"There is no key {id}.");
    }

    /// <summary>Runs the demo's loader as a process; answers its exit code and what it printed.</summary>
    public async Task<(int ExitCode, string Output)> LoadDemoAsync(CancellationToken cancel)
    {
        using var demo = Start("FleetLight.Demo.dll", $"--url {Url} --data {DataFolder} --first-key {Path.Combine(DataFolder, "first-key")}");
        var output = demo.StandardOutput.ReadToEndAsync(cancel);
        var errors = demo.StandardError.ReadToEndAsync(cancel);
        await demo.WaitForExitAsync(cancel);
        return (demo.ExitCode, await output + await errors);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        process.Kill();
        await process.WaitForExitAsync();
        process.Dispose();
        await database.DisposeAsync();
        Directory.Delete(DataFolder, true);
    }

    private Process Start()
    {
        var started = Start("FleetLight.Service.dll", $"--urls {Url}");
        // Read so that the pipes never fill; what the service logs is not looked at here.
        started.OutputDataReceived += (_, _) => { };
        started.ErrorDataReceived += (_, _) => { };
        started.BeginOutputReadLine();
        started.BeginErrorReadLine();
        return started;
    }

    private Process Start(string assembly, string arguments)
    {
        var start = new ProcessStartInfo("dotnet", $"{Path.Combine(AppContext.BaseDirectory, assembly)} {arguments}")
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["ConnectionStrings__FleetLight"] = database.ConnectionString;
        start.Environment["FLEETLIGHT_DATA"] = DataFolder;
        foreach (var (name, value) in settings) start.Environment[name] = value;
        return Process.Start(start)!;
    }

    private async Task ReadyAsync(CancellationToken cancel)
    {
        using var http = new HttpClient { BaseAddress = Url };
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        limit.CancelAfter(TimeSpan.FromMinutes(1));
        while (true)
        {
            if (process.HasExited) throw new InvalidOperationException($"The service ended with exit code {process.ExitCode}.");
            try
            {
                using var answer = await http.GetAsync("health/ready", limit.Token);
                if (answer.IsSuccessStatusCode) return;
            }
            catch (HttpRequestException)
            {
                // It does not listen yet.
            }

            await Task.Delay(100, limit.Token);
        }
    }
}
