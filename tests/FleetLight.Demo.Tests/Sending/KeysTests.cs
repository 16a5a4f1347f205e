using System.Text.Json;
using FleetLight.Demo.Planning;
using FleetLight.Demo.Sending;

namespace FleetLight.Demo.Tests.Sending;

public sealed class KeysTests : IDisposable
{
    private readonly DemoFolder demo = new();

    public void Dispose() => demo.Dispose();

    [Fact]
    public async Task The_file_of_keys_is_its_owner_s_alone_and_holds_what_is_promised()
    {
        await demo.RunAsync();
        var path = demo.PathOf(KeyRing.FileName);
        if (!OperatingSystem.IsWindows()) Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(path));
        using var file = JsonDocument.Parse(await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken));
        Assert.Equal("ellmarsh-1", file.RootElement.GetProperty("organisation").GetString());
        Assert.Equal("http://127.0.0.1:5080/", file.RootElement.GetProperty("url").GetString());
        var keys = file.RootElement.GetProperty("keys").EnumerateArray().ToArray();
        Assert.Equal(["office", "dashboard", "third-party", .. Crews.Devices.Select(device => device.Name)], keys.Select(key => key.GetProperty("name").GetString()!));
        Assert.Equal(["post-events", "read-status", "read-as-built", "administer"], keys[0].GetProperty("scopes").EnumerateArray().Select(scope => scope.GetString()!));
        Assert.All(keys, key => Assert.EndsWith(".secret", key.GetProperty("key").GetString(), StringComparison.Ordinal));
    }

    [Fact]
    public async Task Only_the_keys_of_the_office_and_the_dashboard_are_printed()
    {
        var printed = await demo.RunAsync();
        Assert.Contains("1.secret", printed, StringComparison.Ordinal);
        Assert.Contains("2.secret", printed, StringComparison.Ordinal);
        for (var other = 3; other <= demo.StandIn.KeysAsked.Count; other++) Assert.DoesNotContain($"{other}.secret", printed, StringComparison.Ordinal);
        Assert.DoesNotContain(StandIn.FirstKey, printed, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Keys_of_another_store_are_told_with_what_to_do()
    {
        await demo.RunAsync();
        using var other = new DemoFolder();
        foreach (var name in (string[])[KeyRing.FileName, LoadRecord.FileName]) File.Copy(demo.PathOf(name), other.PathOf(name));
        var failure = await Assert.ThrowsAsync<DemoFailure>(() => other.RunAsync());
        Assert.Contains("answered 401", failure.Message, StringComparison.Ordinal);
        Assert.Contains("remove demo-keys.json and demo-seed.json", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_missing_first_key_is_told()
    {
        File.Delete(demo.PathOf("first-key"));
        var failure = await Assert.ThrowsAsync<DemoFailure>(() => demo.RunAsync());
        Assert.Contains("--first-key", failure.Message, StringComparison.Ordinal);
    }
}
