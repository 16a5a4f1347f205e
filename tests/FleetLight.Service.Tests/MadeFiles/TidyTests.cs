using FleetLight.Service.MadeFiles;
using Xunit;

namespace FleetLight.Service.Tests.MadeFiles;

/// <summary>Which files are taken away, and when.</summary>
public sealed class TidyTests
{
    private const int Room = MadeFileDesk<Wanted>.MostKept;

    [Fact]
    public async Task The_one_unused_longest_is_taken_away_first()
    {
        await using Desk desk = new(options => options with { IsOfOneState = true });
        foreach (int number in Enumerable.Range(0, Room)) await AskAsync(desk, $"{number:00}");
        // The first is used once more, so the second is the one unused longest.
        await AskAsync(desk, "00");
        await AskAsync(desk, "more");

        await AskAsync(desk, "still more");

        Assert.Equal([.. Enumerable.Range(0, Room).Where(number => number != 1).Select(number => $"{number:00} 1"), "more 1", "still more 1"], desk.Kept());
        Assert.Equal("00 1", (await desk.AskAsync("00")).Text);
        Assert.Equal("01 2", (await desk.AskAsync("01")).Text);
    }

    [Fact]
    public async Task One_that_nobody_asked_for_in_a_quarter_of_an_hour_is_taken_away()
    {
        await using Desk desk = new();
        string tag = (await desk.AskAsync("a")).Tag!;
        await desk.AskAsync("b");
        desk.Clock.Advance(MadeFileDesk<Wanted>.Keep - TimeSpan.FromSeconds(1));
        Assert.Equal("a 1", (await desk.AskAsync("a", tag)).Text);
        desk.Clock.Advance(TimeSpan.FromSeconds(1));

        await desk.AskAsync("c");

        Assert.Equal(["a 1", "c 1"], desk.Kept());
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task One_that_somebody_was_sent_away_for_stays_for_a_minute_however_many_come(bool isOfOneState)
    {
        await using Desk desk = new(options => options with { IsOfOneState = isOfOneState });
        TaskCompletionSource released = new();
        desk.Until = (_, _) => released.Task;
        Assert.Equal(503, (await desk.AskInPassingAsync("a")).Problem!.Status);
        Task<Got> ended = desk.AskAsync("a");
        released.SetResult();
        await ended;

        foreach (int number in Enumerable.Range(0, 2 * Room)) await AskAsync(desk, $"{number}");
        Assert.Contains("a 1", desk.Kept());
        Assert.Equal("a 1", (await desk.AskInPassingAsync("a")).Text);

        desk.Clock.Advance(MadeFileDesk<Wanted>.Awaits);
        foreach (int number in Enumerable.Range(0, Room + 1)) await AskAsync(desk, $"{number}");
        Assert.DoesNotContain("a 1", desk.Kept());
    }

    [Fact]
    public async Task Whoever_waits_gets_it_however_many_are_asked_for()
    {
        const int things = 20 * Room;
        await using Desk desk = new(options => options with { IsOfOneState = true });
        // Whatever was made is to be taken away at once, but for whoever waits for it.
        desk.Until = (_, _) =>
        {
            desk.Clock.Advance(MadeFileDesk<Wanted>.Keep);
            return Task.CompletedTask;
        };

        Got[] got = await Task.WhenAll(Enumerable.Range(0, 3 * things).Select(number => Task.Run(() => desk.AskAsync($"{number % things}"))));

        Assert.All(got.Index(), each => Assert.StartsWith($"{each.Index % things} ", each.Item.Text, StringComparison.Ordinal));
        desk.Clock.Advance(MadeFileDesk<Wanted>.Keep);
        await desk.AskAsync("last");
        Assert.Equal(["last 1"], desk.Kept());
    }

    [Fact]
    public async Task One_that_is_being_sent_stays_readable()
    {
        await using Desk desk = new();
        await using FileStream sending = await desk.OpenAsync("a");
        desk.Clock.Advance(MadeFileDesk<Wanted>.Keep);
        await desk.AskAsync("b");
        Assert.Equal(["b 1"], desk.Kept());

        using StreamReader reader = new(sending);
        Assert.Equal("a 1", await reader.ReadToEndAsync(TestContext.Current.CancellationToken));
    }

    // Each a second later than the one before.
    private static async Task AskAsync(Desk desk, string name)
    {
        Assert.NotNull((await desk.AskAsync(name)).Text);
        desk.Clock.Advance(TimeSpan.FromSeconds(1));
    }
}
