using Xunit;

namespace FleetLight.Deploy.Tests.Files;

/// <summary>
/// The documents in <c>contracts/</c>, judged by rules that others published: Spectral's for OpenAPI and AsyncAPI
/// (@stoplight/spectral-rulesets), and the parser of AsyncAPI's makers (@asyncapi/parser). What is left out of them stands, with its
/// reason, in <c>tests/contracts-lint/.spectral.yaml</c>.
/// </summary>
public sealed class ContractLintTests
{
    private static readonly string Folder = Repository.At("TestResults/tools/contracts-lint");

    [Theory]
    [InlineData("contracts/openapi/v1.json")]
    [InlineData("contracts/asyncapi/v1.json")]
    public async Task Published_rules_find_nothing(string document)
    {
        Ended ended = await Tool.RunAsync(
            TimeSpan.FromMinutes(3), Node(),
            [Needed("node_modules/@stoplight/spectral-cli/dist/index.js"), "lint", Repository.At(document), "--ruleset", Repository.At("tests/contracts-lint/.spectral.yaml"),
                "--fail-severity", "hint"]);

        Assert.True(ended.Code == 0, ended.Output + ended.Errors);
    }

    [Fact]
    public async Task The_parser_of_AsyncAPI_reads_the_document()
    {
        // Modules are looked for beside the script.
        string script = Path.Combine(Folder, "asyncapi.mjs");
        _ = Needed("node_modules/@asyncapi/parser/package.json");
        File.Copy(Repository.At("tests/contracts-lint/asyncapi.mjs"), script, overwrite: true);

        Ended ended = await Tool.RunAsync(TimeSpan.FromMinutes(3), Node(), [script, Repository.At("contracts/asyncapi/v1.json")]);

        Assert.True(ended.Code == 0, ended.Output + ended.Errors);
        Assert.Contains("AsyncAPI 3.0.0, 5 channels", ended.Output, StringComparison.Ordinal);
    }

    private static string Node() => Tool.Need("node", "nodejs");

    private static string Needed(string file)
    {
        string found = Path.Combine(Folder, file);
        if (File.Exists(found)) return found;
        const string reason = "The rules for documents are not here; tests/run fetches them from the npm registry.";
        if (Environment.GetEnvironmentVariable("CI") is "true") Assert.Fail(reason);
        Assert.Skip(reason);
        return "";
    }
}
