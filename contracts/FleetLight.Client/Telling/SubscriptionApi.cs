using FleetLight.Client.Reading;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Views;

namespace FleetLight.Client.Telling;

/// <summary>Subscriptions: facts, alerts and changes are posted to an address of yours, one after the other, signed.</summary>
public sealed class SubscriptionApi
{
    private const string Path = "v1/subscriptions";

    private readonly Transport transport;

    internal SubscriptionApi(Transport transport) => this.transport = transport;

    /// <summary>Makes one. Its secret is in this answer and nowhere else, so it is tried again only where the service cannot have made it.</summary>
    /// <exception cref="FleetLightException">The address is none that may be told, or no answer came.</exception>
    public Task<SubscriptionView> MakeAsync(SubscriptionRequest wanted, CancellationToken cancel = default) =>
        transport.ReadAsync<SubscriptionView>(Call.With(HttpMethod.Post, Path, wanted) with { Repeatable = false }, cancel);

    /// <summary>Those of the key; with the scope <c>manage-webhooks</c> all of the organisation.</summary>
    public Task<IReadOnlyList<SubscriptionView>> ListAsync(CancellationToken cancel = default) =>
        transport.ReadAsync<IReadOnlyList<SubscriptionView>>(Call.Get(Path), cancel);

    /// <summary>One of them.</summary>
    public Task<SubscriptionView> FindAsync(string id, CancellationToken cancel = default) => transport.ReadAsync<SubscriptionView>(Call.Get(Of(id)), cancel);

    /// <summary>Ends it.</summary>
    public Task EndAsync(string id, CancellationToken cancel = default) => transport.SendAsync(new Call(HttpMethod.Delete, Of(id)), null, cancel);

    /// <summary>Replaces its secret; for a day both sign.</summary>
    public async Task<string> ReplaceSecretAsync(string id, CancellationToken cancel = default) => (await transport.ReadAsync<ReplacedSecret>(
        Call.With(HttpMethod.Post, $"{Of(id)}/secret", new { }) with { Repeatable = false }, cancel).ConfigureAwait(false)).Secret;

    /// <summary>Has it told on from another place, backwards too: a cursor, <c>start</c> or <c>now</c>.</summary>
    public Task<SubscriptionView> MoveAsync(string id, string after, CancellationToken cancel = default) =>
        transport.ReadAsync<SubscriptionView>(Call.With(HttpMethod.Post, $"{Of(id)}/move", new MoveRequest { After = after }), cancel);

    /// <summary>What it could not be told, oldest first, page after page.</summary>
    public IAsyncEnumerable<ParkedView> ParkedAsync(string id, CancellationToken cancel = default) => Pages.ListAsync<ParkedView>(transport, $"{Of(id)}/parked", cancel);

    /// <summary>Has a parked one told once more.</summary>
    public Task RetryAsync(string id, string message, CancellationToken cancel = default) =>
        transport.SendAsync(new Call(HttpMethod.Post, $"{Of(id)}/parked/{Uri.EscapeDataString(message)}/retry"), null, cancel);

    /// <summary>Throws a parked one away.</summary>
    public Task DropAsync(string id, string message, CancellationToken cancel = default) =>
        transport.SendAsync(new Call(HttpMethod.Delete, $"{Of(id)}/parked/{Uri.EscapeDataString(message)}"), null, cancel);

    private static string Of(string id) => $"{Path}/{Uri.EscapeDataString(id)}";
}
