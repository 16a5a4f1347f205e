using System.Text.Json.Nodes;
using Xunit;

namespace FleetLight.Deploy.Tests.Containers;

/// <summary>A container engine by its command line, as a person would use it.</summary>
internal static class Docker
{
    /// <summary>Skips the test where no engine answers; in CI it fails.</summary>
    public static async Task NeedAsync()
    {
        string docker = Tool.Need("docker", "docker.io");
        Ended ended = await Tool.RunAsync(docker, "info");
        if (ended.Code == 0) return;
        string reason = $"No container engine answers: {ended.Errors.Trim()}";
        if (Environment.GetEnvironmentVariable("CI") is "true") Assert.Fail(reason);
        Assert.Skip(reason);
    }

    /// <summary>Skips the test where the image is not here; in CI it fails. <c>tests/run</c> pulls it, or makes a stand-in.</summary>
    public static async Task NeedImageAsync(string image)
    {
        if ((await Tool.RunAsync("docker", "image", "inspect", image)).Code == 0) return;
        string reason = $"The image {image} is not here; tests/run pulls it or makes one that stands in for it.";
        if (Environment.GetEnvironmentVariable("CI") is "true") Assert.Fail(reason);
        Assert.Skip(reason);
    }

    /// <summary>Runs a command that has to end well, and answers what it printed.</summary>
    public static async Task<string> DoAsync(params string[] arguments) =>
        (await Tool.RunAsync(TimeSpan.FromMinutes(10), "docker", arguments, null, ("DOCKER_BUILDKIT", "0"))).Expect().Output.Trim();

    /// <summary>What the engine knows of an image or a container.</summary>
    public static async Task<JsonNode> InspectAsync(string name) => JsonNode.Parse(await DoAsync("inspect", name))![0]!;

    /// <summary>Takes away what is there of a container or a network, whether it is there or not.</summary>
    public static async Task RemoveAsync(string network, params string[] containers)
    {
        foreach (string container in containers) await Tool.RunAsync("docker", "rm", "--force", "--volumes", container);
        await Tool.RunAsync("docker", "network", "rm", network);
    }

    /// <summary>Takes images away, whether they are there or not.</summary>
    public static Task RemoveImagesAsync(params string[] images) => Tool.RunAsync("docker", ["rmi", .. images]);
}
