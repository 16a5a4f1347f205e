using System.ComponentModel;
using System.Diagnostics;
using System.Text.RegularExpressions;
using Xunit;

namespace FleetLight.Endurance.Tests.RollForward;

/// <summary>The program of the schema version before, built once for all tests of a class from the history of this repository.</summary>
public sealed partial class OldProgram : IAsyncLifetime
{
    /// <summary>The last commit of schema version 4.</summary>
    public const string Commit = "abdb8c81cc70454e20ed2350f44b6ed5fd7488f9";

    // Names one that is built already, for whoever runs these tests again and again.
    private const string Given = "FLEETLIGHT_OLD_PROGRAM";

    private DirectoryInfo? folder;

    /// <summary>Its assembly; none where it cannot be had here.</summary>
    public string? Assembly { get; private set; }

    /// <summary>Why it cannot.</summary>
    public string WhyNot { get; private set; } = "";

    /// <inheritdoc/>
    public async ValueTask InitializeAsync()
    {
        Assembly = Environment.GetEnvironmentVariable(Given);
        if (Assembly is not null) return;
        if (await MissingAsync() is { } missing)
        {
            WhyNot = $"The old program cannot be built: commit {Commit[..7]} is not in the history here ({missing}).";
            return;
        }

        folder = Directory.CreateTempSubdirectory("fleetlight-old-");
        string archive = Path.Combine(folder.FullName, "old.tar"), tree = Path.Combine(folder.FullName, "tree");
        await DoneAsync("git", "-C", Repository.Root, "archive", "--output", archive, Commit);
        Directory.CreateDirectory(tree);
        await DoneAsync("tar", "-xf", archive, "-C", tree);
        // Its pages are served by nobody here, and to build them takes as long as all the rest; what analyzers said of it was said then.
        string project = Path.Combine(tree, "services/FleetLight.Service/FleetLight.Service.csproj");
        await File.WriteAllTextAsync(project, Pages().Replace(await File.ReadAllTextAsync(project), ""));
        // Nothing of the build stays behind: neither a compiler nor a node of it that waits for more.
        await DoneAsync(
            "dotnet", "build", project, "-c", "Release", "-p:RunAnalyzers=false", "-v", "quiet", "--nologo", "-nodeReuse:false", "-p:UseSharedCompilation=false");
        Assembly = Path.Combine(tree, "services/FleetLight.Service/bin/Release/net10.0/FleetLight.Service.dll");
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        folder?.Delete(recursive: true);
        return ValueTask.CompletedTask;
    }

    private static async Task<string?> MissingAsync()
    {
        try
        {
            (int exitCode, string output) = await RunAsync("git", "-C", Repository.Root, "cat-file", "-e", $"{Commit}^{{commit}}");
            return exitCode == 0 ? null : output.Trim();
        }
        catch (Win32Exception noGit)
        {
            return noGit.Message;
        }
    }

    private static async Task DoneAsync(string program, params string[] arguments)
    {
        (int exitCode, string output) = await RunAsync(program, arguments);
        if (exitCode != 0) throw new InvalidOperationException($"{program} {arguments[0]} ended with {exitCode}:\n{output}");
    }

    private static async Task<(int ExitCode, string Output)> RunAsync(string program, params string[] arguments)
    {
        ProcessStartInfo start = new(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        // What a build that runs these tests says to its own parts is not meant for another tree.
        foreach (string name in start.Environment.Keys.Where(name => name.StartsWith("MSBUILD", StringComparison.OrdinalIgnoreCase)).ToArray())
            start.Environment.Remove(name);
        using Process run = Process.Start(start)!;
        Task<string> output = run.StandardOutput.ReadToEndAsync(), errors = run.StandardError.ReadToEndAsync();
        using CancellationTokenSource patience = new(TimeSpan.FromMinutes(10));
        await run.WaitForExitAsync(patience.Token);
        return (run.ExitCode, await output + await errors);
    }

    [GeneratedRegex("<ProjectReference Include=\"\\.\\./FleetLight\\.(Field|Office)/[^>]*/>")]
    private static partial Regex Pages();
}
