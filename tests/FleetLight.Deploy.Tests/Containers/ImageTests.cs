using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Testing.Postgres;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Deploy.Tests.Containers;

/// <summary>
/// The image of the service, really built by its Dockerfile and really run as production runs it: by a user without rights,
/// on a root file system that cannot be written, beside a PostgreSQL in a container. Where no public image can be pulled, the
/// base images are stand-ins made of this machine's own .NET.
/// </summary>
public sealed class ImageTests : IAsyncLifetime
{
    private const string Image = "fleetlight/service:test", Built = "fleetlight/service:test-build";
    private const string Password = "not-a-secret";
    private static readonly string Name = $"fleetlight-{Environment.ProcessId}";
    private static readonly string Service = $"{Name}-service", Postgres = $"{Name}-postgres";
    private readonly DirectoryInfo secrets = Directory.CreateTempSubdirectory("fleetlight-image-");

    public ValueTask InitializeAsync() => ValueTask.CompletedTask;

    public async ValueTask DisposeAsync()
    {
        secrets.Delete(recursive: true);
        await Docker.RemoveAsync(Name, Service, Postgres);
        await Docker.RemoveImagesAsync(Image, Built);
    }

    [Fact]
    public async Task It_is_built_runs_without_rights_turns_healthy_takes_calls_and_tells_when_its_database_is_gone()
    {
        await Docker.NeedAsync();
        foreach (string image in (string[])["mcr.microsoft.com/dotnet/sdk:10.0", "mcr.microsoft.com/dotnet/aspnet:10.0", PostgresServer.Image])
            await Docker.NeedImageAsync(image);
        // The first stage by a name of its own, so that it can be taken away again.
        await BuildAsync("--target", "build", "--tag", Built);
        await BuildAsync("--tag", Image, "--build-arg", "REVISION=of-a-test");

        JsonNode config = (await Docker.InspectAsync(Image))["Config"]!;
        Assert.Equal("1654:1654", (string?)config["User"]);
        Assert.Equal("of-a-test", (string?)config["Labels"]!["org.opencontainers.image.revision"]);
        Assert.Equal(["CMD", "/app/FleetLight.Service", "health"], config["Healthcheck"]!["Test"]!.AsArray().Select(each => (string)each!));

        await StartAsync();
        await BecomesAsync("healthy");
        await AnswersAsync();
        await HasNoRightsAsync();

        await Docker.DoAsync("stop", "--time", "5", Postgres);
        await BecomesAsync("unhealthy");
        await Docker.DoAsync("stop", "--time", "40", Service);
        Assert.Equal(0, (int?)(await Docker.InspectAsync(Service))["State"]!["ExitCode"]);
    }

    // The network of this machine, for an engine of the tests' own leads nowhere.
    private static Task<string> BuildAsync(params string[] more) =>
        Docker.DoAsync(["build", "--network", "host", "--file", "deploy/Dockerfile", .. Proxies(), .. more, "."]);

    private async Task StartAsync()
    {
        string file = Path.Combine(secrets.FullName, "ConnectionStrings__FleetLight");
        await File.WriteAllTextAsync(file, $"Host={Postgres};Database=fleetlight;Username=fleetlight;Password={Password}\n");
        // The service's user is another one than the owner here.
        secrets.UnixFileMode = Readable | UnixFileMode.UserWrite | UnixFileMode.UserExecute | UnixFileMode.GroupExecute | UnixFileMode.OtherExecute;
        new FileInfo(file).UnixFileMode = Readable;
        await Docker.DoAsync("network", "create", Name);
        await Docker.DoAsync(
            "run", "--detach", "--name", Postgres, "--network", Name, "--env", "POSTGRES_USER=fleetlight", "--env", "POSTGRES_DB=fleetlight",
            "--env", $"POSTGRES_PASSWORD={Password}", PostgresServer.Image);
        await Eventually.IsSoAsync(
            async () => (await Tool.RunAsync("docker", "exec", Postgres, "pg_isready", "-q", "-h", "127.0.0.1", "-U", "fleetlight", "-d", "fleetlight")).Code == 0,
            "PostgreSQL to be ready");
        await Docker.DoAsync(
            "run", "--detach", "--name", Service, "--network", Name, "--publish", "127.0.0.1::8080", "--read-only", "--cap-drop", "ALL",
            "--security-opt", "no-new-privileges:true", "--memory", "1g", "--pids-limit", "512", "--health-interval", "2s", "--health-start-period", "1s",
            "--health-retries", "2", "--volume", $"{secrets.FullName}:/run/secrets:ro", Image);
    }

    private static async Task BecomesAsync(string health)
    {
        string log = "";
        try
        {
            await Eventually.ReadAsync(HealthAsync, found => found == health, $"the container to be {health}");
        }
        catch (TimeoutException late)
        {
            log = await Docker.DoAsync("logs", Service);
            throw new TimeoutException($"{late.Message}\n{log}", late);
        }
    }

    private static async Task<string> HealthAsync()
    {
        JsonNode state = (await Docker.InspectAsync(Service))["State"]!;
        Assert.True((bool?)state["Running"], "The container has ended.");
        return (string)state["Health"]!["Status"]!;
    }

    private static async Task AnswersAsync()
    {
        string published = (await Docker.DoAsync("port", Service, "8080/tcp")).Split('\n')[0];
        using HttpClient http = new() { BaseAddress = new Uri($"http://{published}") };
        ApiClient anybody = new(http, null);
        // The first key lies in the volume, where only the service's user can read it.
        DirectoryInfo copied = Directory.CreateTempSubdirectory("fleetlight-key-");
        await Docker.DoAsync("cp", $"{Service}:/data/first-key", copied.FullName);
        string key = (await File.ReadAllTextAsync(Path.Combine(copied.FullName, "first-key"))).Trim();
        copied.Delete(recursive: true);

        Organisation organisation = await Organisation.CreateAsync(anybody.With(key));
        Device device = await organisation.AddDeviceAsync();
        Assert.Equal(1, (await device.TellAsync(Testing.Builders.Facts.SiteOpened())).Recorded);
        await Eventually.IsSoAsync(
            async () => (await organisation.Office.GetAsync($"/v1/sites/{Testing.Builders.Facts.Site}")).Status == HttpStatusCode.OK, "the site to show");
        Assert.Equal(HttpStatusCode.OK, (await anybody.GetAsync("/")).Status);
    }

    private static async Task HasNoRightsAsync()
    {
        string[] processes = (await Docker.DoAsync("top", Service, "-eo", "pid,uid")).Split('\n')[1..];
        Assert.NotEmpty(processes);
        Assert.All(processes, process => Assert.Matches("^ *[0-9]+ +1654$", process));
        Assert.True((bool?)(await Docker.InspectAsync(Service))["HostConfig"]!["ReadonlyRootfs"]);
        // Nothing was written but what is mounted: the engine makes the folders for that.
        Assert.Equal(["A /run", "A /run/secrets"], (await Docker.DoAsync("diff", Service)).Split('\n').Order());
    }

    private const UnixFileMode Readable = UnixFileMode.UserRead | UnixFileMode.GroupRead | UnixFileMode.OtherRead;

    // A build behind a proxy needs to be told of it.
    private static IEnumerable<string> Proxies() =>
        ((string[])["HTTP_PROXY", "HTTPS_PROXY", "NO_PROXY"]).Where(name => Environment.GetEnvironmentVariable(name) is { Length: > 0 })
        .SelectMany(name => (string[])["--build-arg", name]);
}
