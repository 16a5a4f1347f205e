using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Demo.Planning;
using FleetLight.Demo.Sending;

namespace FleetLight.Demo.Tests.Sending;

public sealed class LoadingTests : IDisposable
{
    private readonly DemoFolder demo = new();

    public void Dispose() => demo.Dispose();

    [Fact]
    public async Task It_loads_every_fact_and_says_so()
    {
        var printed = await demo.RunAsync();
        foreach (var log in Some.Fleet().Logs)
        {
            var ids = demo.StandIn.HandedIn.Where(each => each.Source == log.Device.Source).Select(each => each.Event.GetProperty("id").GetString());
            Assert.Equal(log.Events.Select(each => each.Entry.Id).Order(), ids.Distinct().Order());
        }

        Assert.Contains("Seed 1,", printed, StringComparison.Ordinal);
        Assert.Contains("Refused, waiting to be mended: ", printed, StringComparison.Ordinal);
        Assert.Contains("data.lengthMetres", printed, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_second_run_sends_nothing_and_reports_the_same()
    {
        var first = await demo.RunAsync();
        var sent = demo.StandIn.HandedIn.Count;
        var keys = demo.StandIn.KeysAsked.Count;
        demo.Clock.CreateTimer(_ => { }, null, TimeSpan.FromDays(40), Timeout.InfiniteTimeSpan);
        var second = await demo.RunAsync();
        Assert.Equal(sent, demo.StandIn.HandedIn.Count);
        Assert.Equal(keys, demo.StandIn.KeysAsked.Count);
        Assert.Equal(WithoutProgress(first), WithoutProgress(second));
    }

    [Fact]
    public async Task Doubled_batches_are_known_already()
    {
        await demo.RunAsync();
        Assert.All(demo.Sent(), pair => Assert.True(pair.Value > Some.Fleet().Logs.Single(log => log.Device.Name == pair.Key).Events.Count));
        using var record = JsonDocument.Parse(await File.ReadAllTextAsync(demo.PathOf(LoadRecord.FileName), TestContext.Current.CancellationToken));
        foreach (var (name, sent) in demo.Sent())
        {
            var count = record.RootElement.GetProperty("devices").GetProperty(name);
            Assert.Equal(sent, count.GetProperty("sent").GetInt32());
            Assert.Equal(sent, count.GetProperty("recorded").GetInt32() + count.GetProperty("duplicates").GetInt32() + count.GetProperty("refused").GetInt32());
        }
    }

    [Fact]
    public async Task A_device_shows_its_own_clock()
    {
        Assert.Contains("1 d 3 h ahead", await demo.RunAsync(), StringComparison.Ordinal);
        foreach (var device in Crews.Devices)
            Assert.All(demo.StandIn.HandedIn.Where(each => each.Source == device.Source), each => Assert.Equal(device.ClockError, each.ClockError));
    }

    [Fact]
    public async Task A_service_that_is_ill_for_a_moment_is_asked_again()
    {
        demo.StandIn.Ailing = 4;
        Assert.Contains("sites", await demo.RunAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_run_that_broke_off_is_taken_up_where_it_ended()
    {
        demo.StandIn.BatchesUntilBreakdown = 20;
        var failure = await Assert.ThrowsAsync<DemoFailure>(() => demo.RunAsync());
        Assert.Equal("FleetLight at http://127.0.0.1:5080/ cannot be reached: Connection refused", failure.Message);
        demo.StandIn.BatchesUntilBreakdown = int.MaxValue;
        var before = demo.StandIn.HandedIn.Count;
        await demo.RunAsync();
        var had = demo.StandIn.HandedIn.Take(before).Select(each => (each.Source, each.Event.GetProperty("id").GetString())).ToHashSet();
        Assert.DoesNotContain(demo.StandIn.HandedIn.Skip(before), each => had.Contains((each.Source, each.Event.GetProperty("id").GetString())));
        Assert.Equal(
            Some.Fleet().Logs.Sum(log => log.Events.Count),
            demo.StandIn.HandedIn.Select(each => (each.Source, each.Event.GetProperty(Envelope.RunningNumber).GetInt32())).Distinct().Count());
    }

    [Fact]
    public async Task A_service_that_cannot_be_reached_is_told_in_plain_words()
    {
        demo.StandIn.Away = true;
        var failure = await Assert.ThrowsAsync<DemoFailure>(() => demo.RunAsync());
        Assert.Equal("FleetLight at http://127.0.0.1:5080/ is not ready: it cannot be reached (Connection refused).", failure.Message);
        Assert.False(File.Exists(demo.PathOf(LoadRecord.FileName)));
    }

    [Fact]
    public async Task A_service_that_does_not_catch_up_is_reported_as_it_is()
    {
        demo.StandIn.CatchesUp = false;
        var printed = await demo.RunAsync();
        Assert.Contains("The service had not caught up after 60 s", printed, StringComparison.Ordinal);
        Assert.Contains("0 of 10 planted things found.", printed, StringComparison.Ordinal);
        Assert.Contains("… waiting for the service to catch up: 0 of 60 circuits", printed, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Another_seed_in_the_same_folder_is_refused()
    {
        await demo.RunAsync(seed: 1);
        var failure = await Assert.ThrowsAsync<DemoFailure>(() => demo.RunAsync(seed: 2));
        Assert.Contains("holds the demo of seed 1", failure.Message, StringComparison.Ordinal);
    }

    private static string WithoutProgress(string printed) =>
        string.Join('\n', printed.Split('\n').Where(line => !line.StartsWith("  …", StringComparison.Ordinal)));
}
