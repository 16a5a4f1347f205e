using FleetLight.Client.Sending;
using FleetLight.Contracts.Views;

namespace FleetLight.Client.Reading;

/// <summary>The change feed: what changed, oldest first. Fetch each thing again; keep the cursor of the last one.</summary>
public sealed class ChangeApi
{
    /// <summary>Stands for the end of the feed: only what changes from now on.</summary>
    public const string Now = LiveFollower<ChangeView>.Now;

    private readonly Transport transport;
    private readonly LiveFollower<ChangeView> follower;

    internal ChangeApi(Transport transport)
    {
        this.transport = transport;
        follower = new LiveFollower<ChangeView>(
            transport, "v1/changes", "change", change => change.Cursor, async cancel => (await PageAsync(Now, 1, cancel).ConfigureAwait(false)).Next);
    }

    /// <summary>What changed after a cursor; from the beginning where there is none. Go on from the page's <c>next</c>.</summary>
    /// <exception cref="FleetLightException">No answer came.</exception>
    public Task<Page<ChangeView>> PageAsync(string? after, int limit = 500, CancellationToken cancel = default) =>
        transport.ReadAsync<Page<ChangeView>>(
            Call.Get($"v1/changes?limit={limit}{(after is null ? "" : $"&after={Uri.EscapeDataString(after)}")}"), cancel);

    /// <summary>
    /// What changes after a cursor, as it comes, until cancelled (server-sent events). Whatever breaks the connection, it goes
    /// on after the last change given: nothing is passed over.
    /// </summary>
    /// <exception cref="FleetLightException">The service does not take the request, which trying again would not change.</exception>
    public IAsyncEnumerable<ChangeView> FollowAsync(string? after = null, CancellationToken cancel = default) => FollowAsync(after, null, cancel);

    /// <summary>The same, and tells whether the service is heard: true as a stream opens, false as it breaks.</summary>
    /// <param name="after">Cursor of the last change seen; from the beginning where absent, from the end with <see cref="Now"/>.</param>
    /// <param name="heard">Is told each time.</param>
    /// <param name="cancel">Ends it.</param>
    public IAsyncEnumerable<ChangeView> FollowAsync(string? after, IProgress<bool>? heard, CancellationToken cancel = default) =>
        follower.FollowAsync(after, heard, cancel);
}
