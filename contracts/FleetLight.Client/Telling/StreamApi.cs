using FleetLight.Client.Reading;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Views;

namespace FleetLight.Client.Telling;

/// <summary>Facts, alerts and changes in order, as events (CloudEvents 1.0): the same as subscriptions are told, fetched instead of posted.</summary>
public sealed class StreamApi
{
    /// <summary>Stands for the end: only what is told from now on.</summary>
    public const string Now = LiveFollower<ToldEvent>.Now;

    private const string Path = "v1/stream";

    private readonly Transport transport;

    internal StreamApi(Transport transport) => this.transport = transport;

    /// <summary>What was told after a cursor; from the beginning where there is none. Go on from the page's <c>next</c>, which is given at the end too.</summary>
    /// <exception cref="FleetLightException">The filter is not understood, or no answer came.</exception>
    public Task<Page<ToldEvent>> PageAsync(string? after, StreamFilter? filter = null, int limit = 500, CancellationToken cancel = default)
    {
        var path = PathOf(filter);
        path += $"{(path.Contains('?', StringComparison.Ordinal) ? '&' : '?')}limit={limit}";
        return transport.ReadAsync<Page<ToldEvent>>(Call.Get(after is null ? path : $"{path}&after={Uri.EscapeDataString(after)}"), cancel);
    }

    /// <summary>
    /// What is told after a cursor, as it comes, until cancelled (server-sent events). Whatever breaks the connection, it goes on after the last event
    /// given (Last-Event-ID): nothing is passed over, nothing given twice.
    /// </summary>
    /// <param name="after">Cursor of the last event taken; from the beginning where absent, from the end with <see cref="Now"/>.</param>
    /// <param name="filter">What to hear; everything where absent.</param>
    /// <param name="heard">Is told true as a stream opens, false as it breaks.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="FleetLightException">The service does not take the request, which trying again would not change.</exception>
    public IAsyncEnumerable<ToldEvent> FollowAsync(
        string? after = null, StreamFilter? filter = null, IProgress<bool>? heard = null, CancellationToken cancel = default) =>
        new LiveFollower<ToldEvent>(
            transport, PathOf(filter), "told", told => told.Cursor, async end => (await PageAsync(Now, filter, 1, end).ConfigureAwait(false)).Next)
            .FollowAsync(after, heard, cancel);

    private static string PathOf(StreamFilter? filter) => filter is null ? Path : Pages.With(
        Path, ("tell", filter.Tell is null ? null : string.Join(',', filter.Tell.Select(kind => Call.Word<ToldKind>(kind)))), ("types", Joined(filter.Types)),
        ("sites", Joined(filter.Sites)), ("changed", Joined(filter.Changed)), ("rules", Joined(filter.Rules)));

    private static string? Joined(IReadOnlyList<string>? list) => list is null ? null : string.Join(',', list);
}
