using FleetLight.Contracts.Wire;
using Xunit;

namespace FleetLight.Service.Tests.MadeFiles;

/// <summary>Making files beside the answers: who is given which, and how many at once.</summary>
public sealed class MadeFileDeskTests
{
    [Fact]
    public async Task Many_who_ask_for_the_same_at_once_wait_for_one_making()
    {
        await using Desk desk = new();
        TaskCompletionSource released = new();
        desk.Until = (_, _) => released.Task;

        Task<Got>[] asked = [.. Enumerable.Range(0, 20).Select(_ => desk.AskAsync("a"))];
        released.SetResult();

        Assert.All(await Task.WhenAll(asked), got => Assert.Equal("a 1", got.Text));
        Assert.Equal(1, desk.Begun("a"));
    }

    [Fact]
    public async Task What_stands_now_is_made_for_each_who_comes_later()
    {
        await using Desk desk = new();

        Assert.Equal("a 1", (await desk.AskAsync("a")).Text);
        Assert.Equal("a 2", (await desk.AskAsync("a")).Text);
    }

    [Fact]
    public async Task What_is_of_one_state_is_made_once_as_long_as_it_is_kept()
    {
        await using Desk desk = new(options => options with { IsOfOneState = true });

        foreach (int _ in Enumerable.Range(0, 4))
        {
            Assert.Equal("a 1", (await desk.AskAsync("a")).Text);
            desk.Clock.Advance(TimeSpan.FromMinutes(14));
        }

        desk.Clock.Advance(TimeSpan.FromMinutes(1));
        Assert.Equal("a 2", (await desk.AskAsync("a")).Text);
    }

    [Fact]
    public async Task Whoever_was_sent_away_finds_what_was_made_meanwhile_for_a_minute()
    {
        await using Desk desk = new();
        TaskCompletionSource released = new();
        desk.Until = (_, _) => released.Task;

        Got away = await desk.AskInPassingAsync("a");
        Assert.Equal((503, Desk.BeingMade), (away.Problem!.Status, away.Problem.Detail));
        // It takes longer than a minute: that counts from its end.
        desk.Clock.Advance(TimeSpan.FromMinutes(5));
        Task<Got> waiting = desk.AskAsync("a");
        released.SetResult();
        await waiting;

        desk.Clock.Advance(TimeSpan.FromSeconds(59));
        Assert.Equal("a 1", (await desk.AskInPassingAsync("a")).Text);
        desk.Clock.Advance(TimeSpan.FromSeconds(1));
        Assert.Equal("a 2", (await desk.AskAsync("a")).Text);
    }

    [Fact]
    public async Task Whoever_has_a_part_goes_on_with_the_same_though_there_is_a_newer_one()
    {
        await using Desk desk = new();
        string tag = (await desk.AskAsync("a")).Tag!;
        await desk.AskAsync("a");

        Assert.Equal("a 1", (await desk.AskAsync("a", tag)).Text);
        Assert.Equal("a 3", (await desk.AskAsync("a", "\"another\"")).Text);
        // Nor is it given to whoever asks for another thing by that tag.
        Assert.Equal("b 1", (await desk.AskAsync("b", tag)).Text);
        Assert.Equal("a 4", (await desk.AskAsync("a", tag, "another organisation")).Text);
    }

    [Fact]
    public async Task So_many_of_one_organisation_and_two_at_once_of_all_are_made()
    {
        await using Desk desk = new(options => options with { MostOfOne = new(4, Desk.Beyond) });
        TaskCompletionSource released = new();
        TaskCompletionSource two = new();
        desk.Until = (_, _) =>
        {
            if (desk.MostUnderWay == 2) two.TrySetResult();
            return released.Task;
        };

        foreach (string name in (string[])["a", "b", "c", "d"]) Assert.Equal(503, (await desk.AskInPassingAsync(name)).Problem!.Status);
        Problem refused = (await desk.AskInPassingAsync("e")).Problem!;
        Assert.Equal((429, ProblemTypes.TooManyRequests, Desk.Beyond), (refused.Status, refused.Type, refused.Detail));
        // Of those four they may ask, and others for theirs.
        Assert.Equal(503, (await desk.AskInPassingAsync("d")).Problem!.Status);
        Assert.Equal(503, (await desk.AskInPassingAsync("e", "another organisation")).Problem!.Status);

        Task<Got> last = desk.AskAsync("d");
        await two.Task;
        released.SetResult();
        await last;
        Assert.Equal("e 1", (await desk.AskAsync("e", organisation: "another organisation")).Text);
        Assert.Equal("f 1", (await desk.AskAsync("f")).Text);
        Assert.Equal(2, desk.MostUnderWay);
    }

    [Fact]
    public async Task What_failed_is_said_to_whoever_waits_and_tried_anew()
    {
        await using Desk desk = new(options => options with { IsOfOneState = true });
        desk.Until = (_, _) => throw new TimeoutException("It did not answer.");

        await Assert.ThrowsAsync<TimeoutException>(() => desk.AskAsync("a"));
        Assert.Empty(desk.Kept());

        desk.Until = (_, _) => Task.CompletedTask;
        Assert.Equal("a 2", (await desk.AskAsync("a")).Text);
    }

    [Fact]
    public async Task Whoever_leaves_ends_no_making()
    {
        await using Desk desk = new();
        TaskCompletionSource released = new();
        desk.Until = (_, cancel) => released.Task.WaitAsync(cancel);
        using CancellationTokenSource leaving = new();

        Task<Got> left = desk.AskUntilAsync("a", leaving.Token);
        Task<Got> stayed = desk.AskAsync("a");
        await leaving.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => left);
        released.SetResult();

        Assert.Equal("a 1", (await stayed).Text);
    }

    [Fact]
    public async Task The_end_ends_what_is_being_made_and_takes_all_files_away()
    {
        Desk desk = new();
        await desk.AskAsync("made");
        desk.Until = (_, cancel) => Task.Delay(Timeout.Infinite, cancel);
        // Two are being made, and one waits its turn.
        Task<Got>[] waiting = [desk.AskAsync("a"), desk.AskAsync("b"), desk.AskAsync("c")];
        Assert.True(Directory.Exists(desk.Folder));

        await desk.DisposeAsync();

        foreach (Task<Got> each in waiting) await Assert.ThrowsAnyAsync<OperationCanceledException>(() => each);
        Assert.False(Directory.Exists(desk.Folder));
        await Assert.ThrowsAsync<ObjectDisposedException>(() => desk.AskAsync("a"));
        await desk.DisposeAsync();
    }
}
