using System.Diagnostics;

namespace FleetLight.Endurance.Tests.Hosting;

/// <summary>Runs the scripts of deploy/.</summary>
internal static class Script
{
    /// <summary>Runs one; answers its exit code, what it printed, and what it said beside.</summary>
    public static async Task<(int ExitCode, string Output, string Errors)> TryAsync(string script, string? connection, params string[] arguments)
    {
        ProcessStartInfo start = new("bash", [Repository.At(script), .. arguments]) { RedirectStandardOutput = true, RedirectStandardError = true };
        if (connection is not null) start.Environment["ConnectionStrings__FleetLight"] = connection;
        using Process run = Process.Start(start)!;
        Task<string> output = run.StandardOutput.ReadToEndAsync(), errors = run.StandardError.ReadToEndAsync();
        using CancellationTokenSource patience = new(TimeSpan.FromMinutes(5));
        await run.WaitForExitAsync(patience.Token);
        return (run.ExitCode, (await output).Trim(), await errors);
    }

    /// <summary>Runs one, which has to succeed; answers what it printed.</summary>
    public static async Task<string> RunAsync(string script, string? connection, params string[] arguments)
    {
        (int exitCode, string output, string errors) = await TryAsync(script, connection, arguments);
        return exitCode == 0 ? output : throw new InvalidOperationException($"{script} ended with {exitCode}: {errors}");
    }
}
