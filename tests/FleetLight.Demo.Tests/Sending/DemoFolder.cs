using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Tests.Sending;

/// <summary>A data folder with the first key, and the demo run on it against the stand-in.</summary>
internal sealed class DemoFolder : IDisposable
{
    private readonly string path = Directory.CreateTempSubdirectory("fleetlight-demo-").FullName;

    public DemoFolder()
    {
        StandIn = new StandIn(Clock);
        File.WriteAllText(Path.Combine(path, "first-key"), StandIn.FirstKey + "\n");
    }

    public HastyClock Clock { get; } = new(Some.Anchor.AddHours(10));

    public StandIn StandIn { get; }

    public string PathOf(string name) => Path.Combine(path, name);

    /// <summary>Runs the demo and returns what it printed.</summary>
    public async Task<string> RunAsync(long? seed = null)
    {
        using var http = new HttpClient(StandIn, disposeHandler: false);
        using var output = new StringWriter();
        string[] arguments = ["--url", "http://127.0.0.1:5080", "--data", path];
        if (seed is not null) arguments = [.. arguments, "--seed", $"{seed}"];
        await DemoRun.RunAsync(http, DemoOptions.Parse(arguments), output, Clock, TestContext.Current.CancellationToken);
        return output.ToString();
    }

    /// <summary>How many events of each device were handed in.</summary>
    public IReadOnlyDictionary<string, int> Sent() => Crews.Devices.ToDictionary(
        device => device.Name, device => StandIn.HandedIn.Count(each => each.Source == device.Source));

    public void Dispose()
    {
        StandIn.Dispose();
        Directory.Delete(path, recursive: true);
    }
}
