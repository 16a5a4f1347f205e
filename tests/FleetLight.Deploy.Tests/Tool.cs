using System.Diagnostics;
using Xunit;

namespace FleetLight.Deploy.Tests;

/// <summary>A program of others that judges our files. <c>tests/run</c> brings them along where it can.</summary>
internal static class Tool
{
    private static bool InCi => Environment.GetEnvironmentVariable("CI") is "true";

    /// <summary>Where the program is; else the test is skipped with the reason, and in CI it fails.</summary>
    public static string Need(string name, string packages)
    {
        string[] folders = [Repository.At("TestResults/tools/usr/bin"), .. (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)];
        string? found = folders.Select(folder => Path.Combine(folder, name)).FirstOrDefault(File.Exists);
        if (found is not null) return found;
        string reason = $"There is no {name} here; on Debian it comes with the package {packages}.";
        if (InCi) Assert.Fail(reason);
        Assert.Skip(reason);
        return "";
    }

    /// <summary>Runs a program to its end.</summary>
    public static Task<Ended> RunAsync(string program, params string[] arguments) => RunAsync(TimeSpan.FromMinutes(1), program, arguments);

    /// <summary>Runs a program to its end, which has to come within that time.</summary>
    public static async Task<Ended> RunAsync(TimeSpan most, string program, IEnumerable<string> arguments, string? input = null, (string, string)? variable = null)
    {
        ProcessStartInfo start = new(program, arguments)
        {
            WorkingDirectory = Repository.Root,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            RedirectStandardInput = true,
        };
        if (variable is var (name, value)) start.Environment[name] = value;
        using Process process = Process.Start(start)!;
        using CancellationTokenSource limit = new(most);
        Task<string> output = process.StandardOutput.ReadToEndAsync(limit.Token);
        Task<string> errors = process.StandardError.ReadToEndAsync(limit.Token);
        try
        {
            if (input is not null) await process.StandardInput.WriteAsync(input.AsMemory(), limit.Token);
            process.StandardInput.Close();
            await process.WaitForExitAsync(limit.Token);
            return new Ended(process.ExitCode, await output, await errors);
        }
        catch (OperationCanceledException)
        {
            process.Kill(entireProcessTree: true);
            throw new TimeoutException($"{program} {string.Join(' ', arguments)} took longer than {most}.");
        }
    }
}

/// <summary>How a program ended, and what it said.</summary>
internal sealed record Ended(int Code, string Output, string Errors)
{
    /// <summary>The same, where it ended well.</summary>
    public Ended Expect() => Code == 0 ? this : throw new InvalidOperationException($"Ended with {Code}: {Output}{Errors}");
}
