using Xunit;

namespace FleetLight.Deploy.Tests.Files;

/// <summary>The repository's shell scripts, judged by ShellCheck. SC2317 takes functions that are called by name for dead.</summary>
public sealed class ScriptTests
{
    [Fact]
    public async Task ShellCheck_finds_nothing_in_any_script()
    {
        string[] scripts = [.. ((string[])["deploy", "tests", ".ci"]).SelectMany(folder => Directory.EnumerateFiles(Repository.At(folder))).Where(IsScript)];

        Ended ended = await Tool.RunAsync(Tool.Need("shellcheck", "shellcheck"), ["--external-sources", "--exclude=SC2317", .. scripts]);

        Assert.True(scripts.Length >= 8, $"Only these were found: {string.Join(", ", scripts)}");
        Assert.True(ended.Code == 0, ended.Output + ended.Errors);
    }

    private static bool IsScript(string path) =>
        path.EndsWith(".sh", StringComparison.Ordinal) || File.ReadLines(path).FirstOrDefault()?.StartsWith("#!/usr/bin/env bash", StringComparison.Ordinal) is true;
}
