using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Testing.Service;

namespace FleetLight.Deploy.Tests.Running;

/// <summary>A node of the service, as a process of its own that logs JSON.</summary>
internal sealed class Node : IAsyncDisposable
{
    /// <summary>What seals secrets where a test does not say otherwise.</summary>
    public const string MasterSecret = "dGhpcyBpcyBhIG1hc3RlciBzZWNyZXQgb2YgdGhlIHRlc3Rz";

    private readonly ConcurrentQueue<string> lines = new();
    private readonly Process process;
    private readonly string data;

    private Node(string data, IReadOnlyDictionary<string, string> settings)
    {
        this.data = data;
        ProcessStartInfo start = new("dotnet", [Assembly, "--urls", "http://127.0.0.1:0"]) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["FLEETLIGHT_DATA"] = data;
        start.Environment["FLEETLIGHT_LOG_FORM"] = "json";
        // What is told of alerts here listens on this machine.
        start.Environment["Webhooks__AllowedNetworks__0"] = "127.0.0.0/8";
        start.Environment["Webhooks__MasterSecret"] = MasterSecret;
        foreach ((string name, string value) in settings) start.Environment[name] = value;
        process = Process.Start(start)!;
        process.OutputDataReceived += (_, line) => Keep(line.Data);
        process.ErrorDataReceived += (_, line) => Keep(line.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
    }

    /// <summary>The service's program.</summary>
    public static string Assembly => Path.Combine(AppContext.BaseDirectory, "FleetLight.Service.dll");

    /// <summary>Reaches it.</summary>
    public HttpClient Http { get; } = new() { Timeout = TimeSpan.FromSeconds(30) };

    /// <summary>Calls without a key.</summary>
    public ApiClient Anybody { get; private set; } = null!;

    /// <summary>The log lines so far; every one has to be a JSON object.</summary>
    public JsonObject[] Log => [.. lines.Select(line => JsonNode.Parse(line)!.AsObject())];

    /// <summary>Starts it, and waits until it is ready.</summary>
    public static async Task<Node> StartAsync(string data, IReadOnlyDictionary<string, string> settings)
    {
        Node node = new(data, settings);
        node.Http.BaseAddress = new Uri(await Eventually.ReadAsync(() => Task.FromResult(node.Listening()), found => found.Length > 0, "the service to listen"));
        node.Anybody = new ApiClient(node.Http, null);
        await Eventually.IsSoAsync(async () => (await node.Anybody.GetAsync("/health/ready")).Status == HttpStatusCode.OK, "the service to be ready");
        return node;
    }

    /// <summary>The key that it left in its data folder.</summary>
    public async Task<string> FirstKeyAsync() => (await File.ReadAllTextAsync(Path.Combine(data, "first-key"))).Trim();

    /// <summary>Waits until its projection has taken in all.</summary>
    public Task CaughtUpAsync() => Eventually.ReadAsync(
        async () => (await Anybody.GetAsync("/health/ready")).Text, text => text.Contains("\"projectionBehind\":0", StringComparison.Ordinal), "the projection");

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        process.Kill();
        await process.WaitForExitAsync();
        process.Dispose();
        Http.Dispose();
    }

    private void Keep(string? line)
    {
        if (!string.IsNullOrEmpty(line)) lines.Enqueue(line);
    }

    private string Listening()
    {
        if (process.HasExited) throw new InvalidOperationException($"The service ended: {string.Join('\n', lines)}");
        return Log.Select(line => (string?)line["address"]).FirstOrDefault(address => address is not null) ?? "";
    }
}
