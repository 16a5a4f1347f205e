using System.Text.RegularExpressions;
using System.Xml.Linq;
using Xunit;

namespace FleetLight.Deploy.Tests.Files;

/// <summary>deploy/Dockerfile: what can be said of it without building it.</summary>
public sealed partial class DockerfileTests
{
    private static string[] Instructions =>
        [.. Continued().Replace(Repository.Read("deploy/Dockerfile"), " ").Split('\n').Where(line => line.Length > 0 && line[0] != '#')];

    [Fact]
    public async Task A_linter_finds_no_mistake()
    {
        // MIT.
        using NpmPackage linter = await NpmPackage.NeedAsync("dockerfile-utils", "0.16.3");

        Ended ended = await Tool.RunAsync(linter.At(".bin/dockerfile-utils"), "lint", Repository.At("deploy/Dockerfile"));

        Assert.True(ended.Code == 0 && !ended.Output.Contains("Line:", StringComparison.Ordinal), ended.Output + ended.Errors);
    }

    [Fact]
    public void Base_images_are_pinned_to_a_version_that_global_json_agrees_with()
    {
        string[] images = [.. Instructions.Where(line => line.StartsWith("FROM ", StringComparison.Ordinal)).Select(line => line.Split(' ')[1])];

        Assert.Equal(["mcr.microsoft.com/dotnet/sdk:${DOTNET}", "mcr.microsoft.com/dotnet/aspnet:${DOTNET}"], images);
        string version = Assert.Single(Instructions, line => line.StartsWith("ARG DOTNET=", StringComparison.Ordinal))["ARG DOTNET=".Length..];
        Assert.Matches("^[0-9]+\\.[0-9]+$", version);
        Assert.Contains($"\"version\": \"{version}.", Repository.Read("global.json"), StringComparison.Ordinal);
    }

    [Fact]
    public void The_image_has_a_user_without_rights_a_health_check_and_labels()
    {
        string[] last = [.. Instructions.Skip(Array.FindLastIndex(Instructions, line => line.StartsWith("FROM ", StringComparison.Ordinal)))];

        Assert.Contains("USER 1654:1654", last);
        Assert.Single(last, line => line.StartsWith("HEALTHCHECK ", StringComparison.Ordinal));
        string labels = Assert.Single(last, line => line.StartsWith("LABEL ", StringComparison.Ordinal));
        Assert.All((string[])["title", "description", "licenses", "version", "revision"], name =>
            Assert.Contains($"org.opencontainers.image.{name}=", labels, StringComparison.Ordinal));
        Assert.DoesNotContain(last, line => line.StartsWith("ADD ", StringComparison.Ordinal) || line.Contains("curl", StringComparison.Ordinal));
        Assert.Contains(Instructions, line => line.Contains("--locked-mode", StringComparison.Ordinal));
    }

    [Fact]
    public void Every_project_that_the_service_is_built_of_is_restored_with_its_lock_file()
    {
        string dockerfile = Repository.Read("deploy/Dockerfile");

        Assert.All(ProjectsOf("services/FleetLight.Service/FleetLight.Service.csproj"), project =>
        {
            Assert.Contains(project, dockerfile, StringComparison.Ordinal);
            Assert.Contains($"{Path.GetDirectoryName(project)}/packages.lock.json", dockerfile, StringComparison.Ordinal);
        });
    }

    private static HashSet<string> ProjectsOf(string project)
    {
        HashSet<string> all = [project];
        foreach (XElement reference in XDocument.Parse(Repository.Read(project)).Descendants("ProjectReference"))
        {
            string path = Path.GetFullPath(Path.Combine(Repository.At(Path.GetDirectoryName(project)!), (string)reference.Attribute("Include")!));
            all.UnionWith(ProjectsOf(Path.GetRelativePath(Repository.Root, path)));
        }

        return all;
    }

    [GeneratedRegex("\\\\\n")]
    private static partial Regex Continued();
}
