using FleetLight.Service.Circuits;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FleetLight.Service.Tests.Circuits;

/// <summary>What is remembered of a circuit, and when it must not be used.</summary>
public sealed class StatusCacheTests : IDisposable
{
    private readonly ServiceProvider services = new ServiceCollection().AddMetrics().AddSingleton<ReadMetrics>().AddSingleton<StatusCache>().BuildServiceProvider();
    private readonly StatusCache cache;
    private int loads;

    public StatusCacheTests() => cache = services.GetRequiredService<StatusCache>();

    public void Dispose() => services.Dispose();

    [Fact]
    public async Task A_state_is_remembered_for_whoever_has_seen_no_more_than_this_node()
    {
        cache.Resume(10);

        await GetAsync(0);
        await GetAsync(10);

        Assert.Equal(1, loads);
    }

    [Fact]
    public async Task Whoever_has_seen_more_than_this_node_has_followed_gets_it_from_the_store()
    {
        cache.Resume(10);
        await GetAsync(0);

        await GetAsync(11);
        Assert.Equal(2, loads);

        cache.Followed(11);
        await GetAsync(11);
        Assert.Equal(2, loads);
    }

    [Fact]
    public async Task What_was_followed_never_goes_back()
    {
        cache.Resume(10);
        cache.Followed(9);
        await GetAsync(0);

        await GetAsync(10);

        Assert.Equal(1, loads);
    }

    [Fact]
    public async Task Nothing_is_remembered_while_the_feed_cannot_be_followed()
    {
        cache.Resume(10);
        await GetAsync(0);
        cache.Pause();

        await GetAsync(0);

        Assert.Equal(2, loads);
    }

    private Task<Rendered?> GetAsync(long seenThrough) => cache.GetAsync("org", "circuit", seenThrough, () =>
    {
        loads++;
        return Task.FromResult<Rendered?>(Rendered.Of("state"));
    });
}
