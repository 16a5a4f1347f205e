using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using FleetLight.Testing.Service;

namespace FleetLight.Faults.Tests.Nodes;

/// <summary>The service as a process of its own, as it is run, which a test may kill.</summary>
internal sealed class ServiceNode : IAsyncDisposable
{
    private const int MostLines = 2000;
    private readonly string database;
    private readonly string dataFolder = Directory.CreateTempSubdirectory("fleetlight-faults-").FullName;
    private readonly ConcurrentQueue<string> lines = new();
    private readonly HttpClient http;
    private Process? process;

    private ServiceNode(string database)
    {
        this.database = database;
        using TcpListener free = new(IPAddress.Loopback, 0);
        free.Start();
        Url = new Uri($"http://127.0.0.1:{((IPEndPoint)free.LocalEndpoint).Port}/");
        http = new HttpClient { BaseAddress = Url, Timeout = TimeSpan.FromSeconds(60) };
    }

    /// <summary>Where it listens, also after it was killed and started again.</summary>
    public Uri Url { get; }

    /// <summary>Calls it without a key.</summary>
    public ApiClient Anybody => new(http, null);

    /// <summary>Calls it with the first key of its database, where this node made it.</summary>
    public ApiClient Host => Anybody.With(File.ReadAllText(Path.Combine(dataFolder, "first-key")).Trim());

    /// <summary>The same; none where another node made the key.</summary>
    public ApiClient? HostOrNone => File.Exists(Path.Combine(dataFolder, "first-key")) ? Host : null;

    /// <summary>The end of what it logged, for a test that fails.</summary>
    public string Log => string.Join('\n', lines);

    /// <summary>How often it met something that it has no answer for.</summary>
    public int Surprises => lines.Count(line => line.Contains("Unexpected fault", StringComparison.Ordinal));

    /// <summary>Whether its process runs.</summary>
    public bool Runs => process is { HasExited: false };

    /// <summary>Starts a node on that database, and waits until it is ready.</summary>
    public static async Task<ServiceNode> StartAsync(string database)
    {
        ServiceNode node = new(database);
        node.Start();
        await node.ReadyAsync();
        return node;
    }

    /// <summary>Starts its process, and does not wait.</summary>
    public void Start()
    {
        ProcessStartInfo start = new("dotnet", [Path.Combine(AppContext.BaseDirectory, "FleetLight.Service.dll"), "--urls", Url.ToString()])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["ConnectionStrings__FleetLight"] = database;
        start.Environment["FLEETLIGHT_DATA"] = dataFolder;
        // Receivers of webhooks listen on this machine.
        start.Environment["Webhooks__AllowedNetworks__0"] = "127.0.0.0/8";
        start.Environment["Webhooks__MasterSecret"] = "dGhpcyBpcyBhIG1hc3RlciBzZWNyZXQgb2YgdGhlIHRlc3Rz";
        // What is measured here is the service and not what it lets one caller ask for.
        foreach (string kind in (string[])["Intake", "Read", "Calculation", "Administration", "Anonymous"])
        {
            start.Environment[$"RateLimits__{kind}__PerSecond"] = "10000000";
            start.Environment[$"RateLimits__{kind}__Burst"] = "10000000";
        }
        process = Process.Start(start)!;
        process.OutputDataReceived += (_, line) => Keep(line.Data);
        process.ErrorDataReceived += (_, line) => Keep(line.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
    }

    /// <summary>Ends its process as a power cut would.</summary>
    public async Task KillAsync()
    {
        if (process is null) return;
        process.Kill();
        await process.WaitForExitAsync();
        process.Dispose();
        process = null;
    }

    /// <summary>Waits until it listens, whatever it answers.</summary>
    public Task ListensAsync() => AnswersAsync(_ => true);

    /// <summary>Waits until it says that it is ready.</summary>
    public Task ReadyAsync() => AnswersAsync(answer => answer.Status == HttpStatusCode.OK);

    /// <summary>Waits until the projection has taken in all that is in the store.</summary>
    public Task CaughtUpAsync() => AnswersAsync(answer => answer.Text.Contains("\"projectionBehind\":0", StringComparison.Ordinal));

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await KillAsync();
        http.Dispose();
        Directory.Delete(dataFolder, true);
        string logs = Path.Combine(Repository.Root, "TestResults", "logs");
        Directory.CreateDirectory(logs);
        await File.WriteAllLinesAsync(Path.Combine(logs, $"faults-service-{Url.Port}.log"), lines);
    }

    private async Task AnswersAsync(Func<Answer, bool> wanted)
    {
        long began = Stopwatch.GetTimestamp();
        string last = "nothing";
        while (Stopwatch.GetElapsedTime(began) < Eventually.Deadline)
        {
            if (!Runs) throw new InvalidOperationException($"The service ended with exit code {process?.ExitCode}.\n{Log}");
            try
            {
                Answer answer = await Anybody.GetAsync("health/ready");
                if (wanted(answer)) return;
                last = answer.Text;
            }
            catch (HttpRequestException)
            {
                // It does not listen yet.
            }

            await Task.Delay(20);
        }

        throw new TimeoutException($"Waited in vain; the last answer was {last}\n{Log}");
    }

    private void Keep(string? line)
    {
        if (line is null) return;
        lines.Enqueue(line);
        if (lines.Count > MostLines) lines.TryDequeue(out _);
    }
}
