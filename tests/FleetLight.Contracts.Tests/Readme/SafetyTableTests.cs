using System.Text.RegularExpressions;

namespace FleetLight.Contracts.Tests.Readme;

/// <summary>The tests that DEVELOPERS.md names as proof are there.</summary>
public partial class SafetyTableTests
{
    [Fact]
    public void Every_test_that_is_named_is_there()
    {
        var text = File.ReadAllText(Repository.At("DEVELOPERS.md"));
        var from = text.IndexOf("## How safe it is", StringComparison.Ordinal);
        var named = Named().Matches(text[from..text.IndexOf("\n## ", from + 1, StringComparison.Ordinal)]).Select(match => match.Groups[1].Value).ToHashSet();
        var there = Directory.EnumerateFiles(Repository.At("tests"), "*.cs", SearchOption.AllDirectories)
            .SelectMany(file => Class().Matches(File.ReadAllText(file))).Select(match => match.Groups[1].Value).ToHashSet();

        Assert.True(named.Count > 20, "The table names hardly a test.");
        Nothing.In(named.Except(there));
    }

    [GeneratedRegex("`(\\w+Tests)`")]
    private static partial Regex Named();

    [GeneratedRegex("\\bclass (\\w+Tests)\\b")]
    private static partial Regex Class();
}
