using System.Diagnostics;

namespace FleetLight.Faults.Tests.Nodes;

/// <summary>Runs commands to their end.</summary>
internal static class Commands
{
    /// <summary>Runs a command and gives what it printed; it has to end well and within three minutes.</summary>
    public static async Task<string> RunAsync(string program, params string[] arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo(program, arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            RedirectStandardInput = true,
        })!;
        process.StandardInput.Close();
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        Task<string> errors = process.StandardError.ReadToEndAsync();
        using CancellationTokenSource limit = new(TimeSpan.FromMinutes(3));
        await process.WaitForExitAsync(limit.Token);
        return process.ExitCode == 0
            ? await output
            : throw new InvalidOperationException($"{program} {string.Join(' ', arguments)} ended with {process.ExitCode}: {await errors}");
    }
}
