using FleetLight.Demo.Sending;

namespace FleetLight.Demo.Tests;

public sealed class DemoOptionsTests
{
    [Fact]
    public void The_first_key_is_looked_for_in_the_data_folder()
    {
        var options = DemoOptions.Parse(["--url", "http://127.0.0.1:5080", "--data", "folder"]);
        Assert.Equal(new Uri("http://127.0.0.1:5080/"), options.Url);
        Assert.Equal(Path.Combine("folder", "first-key"), options.FirstKeyFile);
        Assert.Null(options.Seed);
    }

    [Fact]
    public void All_can_be_said()
    {
        var options = DemoOptions.Parse(["--first-key", "k", "--seed", "12", "--data", "folder", "--url", "https://example.test/fleetlight"]);
        Assert.Equal(("k", 12L, new Uri("https://example.test/fleetlight/")), (options.FirstKeyFile, options.Seed, options.Url));
    }

    [Theory]
    [InlineData("--data", "folder")]
    [InlineData("--url", "http://127.0.0.1:5080")]
    [InlineData("--url", "127.0.0.1:5080", "--data", "folder")]
    [InlineData("--url", "http://127.0.0.1:5080", "--data")]
    [InlineData("--url", "http://127.0.0.1:5080", "--data", "folder", "--seed", "-1")]
    [InlineData("--url", "http://127.0.0.1:5080", "--data", "folder", "--sead", "1")]
    public void What_is_not_understood_is_answered_with_the_usage(params string[] arguments) =>
        Assert.Contains("Usage: FleetLight.Demo --url", Assert.Throws<DemoFailure>(() => DemoOptions.Parse(arguments)).Message, StringComparison.Ordinal);
}
