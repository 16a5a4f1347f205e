using System.Diagnostics;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Testing.Service;

namespace FleetLight.FieldAgent.Tests.Agents;

/// <summary>A running agent, as a process of its own, and a program beside it that knows its token.</summary>
internal sealed class AgentProcess : IAsyncDisposable
{
    private readonly Process process;
    private readonly StringBuilder log = new();

    private AgentProcess(Process process)
    {
        this.process = process;
        process.OutputDataReceived += (_, line) => Keep(line.Data);
        process.ErrorDataReceived += (_, line) => Keep(line.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
    }

    /// <summary>Calls the agent as a program of this machine; none where it ended before it listened.</summary>
    public HttpClient? Http { get; private set; }

    /// <summary>Whether it has ended.</summary>
    public bool HasEnded => process.HasExited;

    /// <summary>Its exit code.</summary>
    public int ExitCode => process.ExitCode;

    /// <summary>What it printed.</summary>
    public string Log
    {
        get
        {
            lock (log) return log.ToString();
        }
    }

    /// <summary>An agent that listens, or has ended.</summary>
    public static async Task<AgentProcess> StartedAsync(Process process, string folder)
    {
        var agent = new AgentProcess(process);
        var path = Path.Combine(folder, "local-address");
        await Eventually.IsSoAsync(() => process.HasExited || (File.Exists(path) && File.ReadAllText(path).EndsWith('\n')), "the agent to listen");
        if (!process.HasExited)
        {
            agent.Http = new HttpClient { BaseAddress = new Uri((await File.ReadAllTextAsync(path)).Trim()), Timeout = TimeSpan.FromSeconds(30) };
            agent.Http.DefaultRequestHeaders.Authorization =
                new AuthenticationHeaderValue("Bearer", (await File.ReadAllTextAsync(Path.Combine(folder, "local-token"))).Trim());
        }

        return agent;
    }

    /// <summary>Records a fact; the answer, or none where the agent did not answer.</summary>
    public async Task<HttpStatusCode?> RecordAsync(IFact fact, string? reference = null, bool asItIs = false)
    {
        if (Http is null) return null;
        try
        {
            var data = JsonSerializer.SerializeToElement(fact, fact.GetType(), WireJson.Strict);
            using var answer = await Http.PostAsJsonAsync(
                "v1/facts", new { type = FactTypes.NameOf(fact.GetType()), data, reference, asItIs }, WireJson.Lenient);
            // The body too: an answer that breaks off is none.
            var text = await answer.Content.ReadAsStringAsync();
            return (int)answer.StatusCode is >= 400 and < 500
                ? throw new InvalidOperationException($"The agent answered {(int)answer.StatusCode}: {text}")
                : answer.StatusCode;
        }
        catch (Exception failed) when (failed is HttpRequestException or IOException or TaskCanceledException)
        {
            return null;
        }
    }

    /// <summary>How it says that it stands.</summary>
    public async Task<JsonNode> StatusAsync() => (await Http!.GetFromJsonAsync<JsonNode>("v1/status"))!;

    /// <summary>Waits until nothing waits to be sent.</summary>
    public Task EmptyAsync() => Eventually.IsSoAsync(
        async () => (await StatusAsync())["facts"] is { } facts && (long)facts["waiting"]! == 0 && (long)facts["held"]! == 0, $"the outbox to be empty; {Log}");

    /// <summary>Ends it as a power cut would.</summary>
    public async Task CutPowerAsync()
    {
        if (!process.HasExited) process.Kill();
        await process.WaitForExitAsync();
    }

    /// <summary>Waits until it ends by itself.</summary>
    public Task EndedAsync() => Eventually.IsSoAsync(() => process.HasExited, "the agent to end");

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await CutPowerAsync();
        Http?.Dispose();
        process.Dispose();
    }

    private void Keep(string? line)
    {
        if (line is null) return;
        lock (log) log.AppendLine(line);
    }
}
