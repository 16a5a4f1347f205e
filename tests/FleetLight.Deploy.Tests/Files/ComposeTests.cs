using System.Text.Json.Nodes;
using Json.Schema;
using Xunit;

namespace FleetLight.Deploy.Tests.Files;

/// <summary>deploy/compose.yaml, judged by the schema of the Compose Specification and by what we ask of every container.</summary>
public sealed class ComposeTests
{
    private static readonly JsonNode Compose = Yaml.Read("deploy/compose.yaml");

    private static IEnumerable<KeyValuePair<string, JsonNode?>> Services => Compose["services"]!.AsObject();

    [Fact]
    public async Task It_is_as_the_Compose_Specification_asks_and_the_schema_finds_a_mistake()
    {
        JsonObject schema = await SchemaAsync();
        Assert.Equal([], Faults(Compose, schema));

        JsonNode wrong = Compose.DeepClone();
        wrong["services"]!["postgres"]!["read_onely"] = true;
        Assert.NotEmpty(Faults(wrong, schema));
    }

    [Fact]
    public void Every_container_has_no_rights_it_does_not_need_and_a_limit()
    {
        Assert.All(Services, service =>
        {
            JsonNode says = service.Value!;
            Assert.True((bool?)says["read_only"], service.Key);
            Assert.Equal(["ALL"], Texts(says["cap_drop"]));
            Assert.Equal(["no-new-privileges:true"], Texts(says["security_opt"]));
            Assert.NotNull(says["mem_limit"]);
            Assert.NotNull(says["cpus"]);
            Assert.NotNull(says["pids_limit"]);
            Assert.Null(says["privileged"]);
            Assert.Matches(":[0-9]+(\\.[0-9]+)*(-[a-z]+)?$", (string)says["image"]!);
            Assert.All(Texts(says["ports"]), port => Assert.StartsWith("127.0.0.1:", port, StringComparison.Ordinal));
        });
    }

    [Fact]
    public void There_are_two_nodes_of_the_service_that_wait_for_the_database()
    {
        string[] nodes = [.. Services.Where(service => service.Value!["build"] is not null).Select(service => service.Key)];

        Assert.Equal(["service-a", "service-b"], nodes);
        Assert.Equal("service_healthy", (string?)Compose["services"]!["service-a"]!["depends_on"]!["postgres"]!["condition"]);
        Assert.Equal("service_healthy", (string?)Compose["services"]!["service-b"]!["depends_on"]!["service-a"]!["condition"]);
        Assert.NotNull(Compose["services"]!["postgres"]!["healthcheck"]);
    }

    [Fact]
    public void The_database_writes_what_was_promised()
    {
        string[] command = Texts(Compose["services"]!["postgres"]!["command"]);

        Assert.All((string[])["fsync=on", "synchronous_commit=on", "full_page_writes=on"], setting => Assert.Contains(setting, command));
    }

    [Fact]
    public void Secrets_come_out_of_files_that_git_does_not_know()
    {
        Assert.All(Compose["secrets"]!.AsObject(), secret => Assert.StartsWith("./secrets/", (string?)secret.Value!["file"], StringComparison.Ordinal));
        Assert.Contains("deploy/secrets/", Repository.Read(".gitignore"), StringComparison.Ordinal);
        Assert.DoesNotContain("Password=", Repository.Read("deploy/compose.yaml"), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task The_secrets_that_it_reads_are_made_once_and_each_has_the_other_s_password()
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("fleetlight-secrets-");
        string[] wanted = [.. Compose["secrets"]!.AsObject().Select(secret => Path.GetFileName((string)secret.Value!["file"]!)).Order()];

        (await Tool.RunAsync(Repository.At("deploy/make-secrets"), folder.FullName)).Expect();
        string password = (await File.ReadAllTextAsync(Path.Combine(folder.FullName, "postgres-password"), TestContext.Current.CancellationToken)).Trim();
        (await Tool.RunAsync(Repository.At("deploy/make-secrets"), folder.FullName)).Expect();

        Assert.Equal(wanted, folder.GetFiles().Select(file => file.Name).Order());
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, folder.UnixFileMode);
        Assert.Equal(48, password.Length);
        Assert.Contains(
            $"Password={password};",
            await File.ReadAllTextAsync(Path.Combine(folder.FullName, "connection"), TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
        folder.Delete(recursive: true);
    }

    private static string[] Texts(JsonNode? list) => list is null ? [] : [.. list.AsArray().Select(each => (string)each!)];

    // The JSON Schema of the Compose Specification, as the package dclint (MIT) carries it.
    private static async Task<JsonObject> SchemaAsync()
    {
        using NpmPackage package = await NpmPackage.NeedAsync("dclint", "3.1.0");
        return JsonNode.Parse(await File.ReadAllTextAsync(package.At("dclint/schemas/compose.schema.json")))!.AsObject();
    }

    private static string[] Faults(JsonNode compose, JsonObject text)
    {
        // It names its dialect by an address that is not quite the dialect's, and itself by one that is none.
        text.Remove("$schema");
        text.Remove("$id");
        BuildOptions asMeant = new() { Dialect = Dialect.Draft07, SchemaRegistry = new SchemaRegistry() };
        EvaluationResults results = JsonSchema.FromText(text.ToJsonString(), asMeant).Evaluate(
            System.Text.Json.JsonSerializer.SerializeToElement(compose), new EvaluationOptions { OutputFormat = OutputFormat.List });
        return results.IsValid
            ? []
            : [.. (results.Details ?? []).Where(each => each.Errors is { Count: > 0 }).Select(each => $"{each.InstanceLocation}: {string.Join("; ", each.Errors!.Values)}")];
    }
}
