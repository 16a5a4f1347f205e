using System.Diagnostics;
using System.Text;
using System.Text.Json.Nodes;
using FleetLight.FieldAgent.Faults;
using FleetLight.FieldAgent.Identity;
using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent.Tests.Agents;

/// <summary>What a command of the agent came to.</summary>
/// <param name="Code">Its exit code; 137 where it was killed.</param>
/// <param name="Text">What it printed.</param>
/// <param name="Errors">What it printed as errors.</param>
internal sealed record Ran(int Code, string Text, string Errors)
{
    /// <summary>What it printed, as JSON.</summary>
    public JsonNode Json => JsonNode.Parse(Text)!;
}

/// <summary>A folder of an agent, gone when disposed of, and the agent's processes on it.</summary>
internal sealed class AgentFolder : IDisposable
{
    /// <summary>Quick enough for tests; everything else is as it runs.</summary>
    private static readonly (string Name, string Value)[] Quick =
    [
        ("TRY_SECONDS", "5"), ("LONGEST_PAUSE_SECONDS", "1"), ("LOOK_SECONDS", "1"),
    ];

    /// <summary>Where it is.</summary>
    public string Path { get; } = Directory.CreateTempSubdirectory("fleetlight-field-").FullName;

    /// <summary>Where the outbox file is.</summary>
    public string Outbox => System.IO.Path.Combine(Path, "outbox.db");

    /// <summary>Where the mark of how far facts go is.</summary>
    public string Mark => System.IO.Path.Combine(Path, MarkFile.Name);

    /// <summary>Whether a file can be read by its user only, where the system knows such a thing.</summary>
    public bool IsPrivate(string name) => OperatingSystem.IsWindows()
        || File.GetUnixFileMode(System.IO.Path.Combine(Path, name)) == (UnixFileMode.UserRead | UnixFileMode.UserWrite);

    /// <summary>Opens the parts on the folder, in this process.</summary>
    public AgentParts Open() => AgentParts.Open(new FieldOptions { Folder = Path });

    /// <summary>Makes the folder that of a device, as if it had enrolled.</summary>
    public void Become(Uri address, string key, string source)
    {
        using var parts = Open();
        new IdentityFile(Path, FaultPoints.None).Write(new DeviceIdentity
        {
            Address = address,
            Key = key,
            KeyId = "test",
            Source = source,
            KeyGivenAt = DateTimeOffset.UtcNow,
        });
    }

    /// <summary>Runs a command to its end.</summary>
    public Task<Ran> RunAsync(params string[] arguments) => RunWithAsync(null, null, arguments);

    /// <summary>Runs a command to its end, with faults and an input.</summary>
    public async Task<Ran> RunWithAsync(string? faults, string? input, params string[] arguments)
    {
        using var process = Start(faults, [], arguments);
        if (input is not null) await process.StandardInput.WriteAsync(input);
        process.StandardInput.Close();
        var text = process.StandardOutput.ReadToEndAsync();
        var errors = process.StandardError.ReadToEndAsync();
        using var limit = new CancellationTokenSource(TimeSpan.FromMinutes(1));
        await process.WaitForExitAsync(limit.Token);
        return new Ran(process.ExitCode, await text, await errors);
    }

    /// <summary>Starts the agent and waits until it answers.</summary>
    public async Task<AgentProcess> StartAsync(string? faults = null, params (string Name, string Value)[] settings)
    {
        var address = System.IO.Path.Combine(Path, "local-address");
        File.Delete(address);
        return await AgentProcess.StartedAsync(Start(faults, settings, ["run", "--port", "0"]), Path);
    }

    /// <inheritdoc/>
    public void Dispose() => Directory.Delete(Path, true);

    private Process Start(string? faults, (string Name, string Value)[] settings, string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet", [System.IO.Path.Combine(AppContext.BaseDirectory, "FleetLight.FieldAgent.dll"), .. arguments, "--folder", Path])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardOutputEncoding = Encoding.UTF8,
        };
        foreach (var (name, value) in (IEnumerable<(string, string)>)[.. Quick, .. settings]) start.Environment[FieldOptions.Prefix + name] = value;
        if (faults is not null) start.Environment[FaultPoints.Variable] = faults;
        return Process.Start(start)!;
    }
}
