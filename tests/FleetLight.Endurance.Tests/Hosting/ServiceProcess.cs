using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using FleetLight.Testing.Service;

namespace FleetLight.Endurance.Tests.Hosting;

/// <summary>The service as a process of its own, as a user starts it, on a given database.</summary>
internal sealed class ServiceProcess : IAsyncDisposable
{
    /// <summary>The service itself.</summary>
    public const string Sound = "FleetLight.Service.dll";

    /// <summary>A build of it with faults in it.</summary>
    public const string Poisoned = "FleetLight.PoisonedService.dll";

    private readonly string connection;
    private readonly HttpClient http;
    private readonly ConcurrentQueue<string> log = new();
    private Process process;

    private ServiceProcess(string connection, string folder, Uri url, string assembly)
    {
        this.connection = connection;
        (DataFolder, Url) = (folder, url);
        http = new HttpClient(new SocketsHttpHandler { UseCookies = false }) { BaseAddress = url, Timeout = TimeSpan.FromSeconds(60) };
        process = Start(assembly);
    }

    /// <summary>Its data folder.</summary>
    public string DataFolder { get; }

    /// <summary>Where it listens.</summary>
    public Uri Url { get; }

    /// <summary>Calls without a key.</summary>
    public ApiClient Anybody => new(http, null);

    /// <summary>Calls with its first key.</summary>
    public ApiClient Host => Anybody.With(File.ReadAllText(Path.Combine(DataFolder, "first-key")).Trim());

    /// <summary>Its memory, bytes.</summary>
    public long WorkingSet
    {
        get
        {
            process.Refresh();
            return process.WorkingSet64;
        }
    }

    /// <summary>Whether it has ended.</summary>
    public bool HasExited => process.HasExited;

    /// <summary>What it logged last.</summary>
    public string Log => string.Join('\n', log);

    /// <summary>Starts it and waits until it is ready.</summary>
    public static async Task<ServiceProcess> StartAsync(string connection, string assembly = Sound, string? folder = null)
    {
        using TcpListener listener = new(IPAddress.Loopback, 0);
        listener.Start();
        Uri url = new($"http://127.0.0.1:{((IPEndPoint)listener.LocalEndpoint).Port}/");
        listener.Stop();
        ServiceProcess running = new(connection, folder ?? Directory.CreateTempSubdirectory("fleetlight-endurance-").FullName, url, assembly);
        await running.ReadyAsync();
        return running;
    }

    /// <summary>Ends it as a deployment does, and starts that build in its place.</summary>
    public async Task ReplaceAsync(string assembly)
    {
        await StopAsync();
        process.Dispose();
        process = Start(assembly);
        await ReadyAsync();
    }

    /// <summary>Ends it as a deployment does.</summary>
    public async Task StopAsync()
    {
        if (process.HasExited) return;
        using (Process signal = Process.Start("kill", $"-TERM {process.Id}")) await signal.WaitForExitAsync();
        using CancellationTokenSource patience = new(TimeSpan.FromSeconds(30));
        try
        {
            await process.WaitForExitAsync(patience.Token);
        }
        catch (OperationCanceledException)
        {
            process.Kill();
            await process.WaitForExitAsync(CancellationToken.None);
        }
    }

    /// <summary>Runs it to its end with other arguments; answers its exit code and what it printed.</summary>
    public static async Task<(int ExitCode, string Output)> RunAsync(string connection, string arguments)
    {
        using Process run = Process.Start(Described(connection, Path.GetTempPath(), Sound, arguments))!;
        Task<string> output = run.StandardOutput.ReadToEndAsync(), errors = run.StandardError.ReadToEndAsync();
        await run.WaitForExitAsync();
        return (run.ExitCode, await output + await errors);
    }

    /// <summary>Waits until the projection has taken in all that is in the store.</summary>
    public Task CaughtUpAsync(TimeSpan? within = null) => Eventually.ReadAsync(
        async () => (await Anybody.GetAsync("/health/ready")).Text,
        text => text.Contains("\"projectionBehind\":0", StringComparison.Ordinal),
        "the projection to take in all that is in the store", within);

    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited) process.Kill();
        await process.WaitForExitAsync();
        process.Dispose();
        http.Dispose();
        Directory.Delete(DataFolder, recursive: true);
    }

    private static ProcessStartInfo Described(string connection, string folder, string assembly, string arguments)
    {
        ProcessStartInfo start = new("dotnet", $"{Path.Combine(AppContext.BaseDirectory, assembly)} {arguments}")
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["ConnectionStrings__FleetLight"] = connection;
        start.Environment["FLEETLIGHT_DATA"] = folder;
        // Receivers of webhooks listen on this machine.
        start.Environment["Webhooks__AllowedNetworks__0"] = "127.0.0.0/8";
        // Those of every node, as a fleet has them: a node that starts with an empty folder goes on where another stopped.
        start.Environment["Ledger__SigningKey"] = "3f1d5c07a2b84e6690c4d8e2715bfa3096e7c1d40b58f2a36d9e01c7b4a5f823";
        start.Environment["Webhooks__MasterSecret"] = "dGhpcyBpcyBhIG1hc3RlciBzZWNyZXQgb2YgdGhlIHRlc3Rz";
        // What is measured here is the service and not what it lets one caller ask for.
        foreach (string kind in (string[])["Intake", "Read", "Calculation", "Administration", "Anonymous"])
        {
            start.Environment[$"RateLimits__{kind}__PerSecond"] = "10000000";
            start.Environment[$"RateLimits__{kind}__Burst"] = "10000000";
        }
        return start;
    }

    private Process Start(string assembly)
    {
        Process started = Process.Start(Described(connection, DataFolder, assembly, $"--urls {Url}"))!;
        started.OutputDataReceived += (_, line) => Keep(line.Data);
        started.ErrorDataReceived += (_, line) => Keep(line.Data);
        started.BeginOutputReadLine();
        started.BeginErrorReadLine();
        return started;
    }

    private void Keep(string? line)
    {
        if (line is null) return;
        log.Enqueue(line);
        while (log.Count > 2000) log.TryDequeue(out _);
    }

    private async Task ReadyAsync()
    {
        long began = Stopwatch.GetTimestamp();
        while (true)
        {
            if (process.HasExited) throw new InvalidOperationException($"The service ended with exit code {process.ExitCode}:\n{Log}");
            if (Stopwatch.GetElapsedTime(began) > TimeSpan.FromMinutes(1)) throw new TimeoutException($"The service is not ready:\n{Log}");
            try
            {
                if ((await Anybody.GetAsync("/health/ready")).Status == HttpStatusCode.OK) return;
            }
            catch (HttpRequestException)
            {
                // It does not listen yet.
            }

            await Task.Delay(50);
        }
    }
}
