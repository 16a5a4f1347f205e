using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Works;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Photos;

/// <summary>The ids that mean one thing, as far as joinings that count say.</summary>
public static class SameThings
{
    /// <summary>All ids of a thing, the one asked for first.</summary>
    public static async Task<IReadOnlyCollection<string>> OfAsync(NpgsqlDataSource database, string organisation, ThingKind kind, string id, CancellationToken cancel)
    {
        if (kind is not (ThingKind.Duct or ThingKind.Cable or ThingKind.Box)) return [id];
        // Links are only ever added: which of those that were ever joined still are, their states say.
        var links = new LinkRows(database, organisation);
        var all = new HashSet<string>(StringComparer.Ordinal) { id };
        for (var open = new[] { id }; open.Length > 0;)
        {
            var asks = open.Select(each => new LinkAsk(new ThingRef(kind, each), kind, Backwards: false)).ToArray();
            await links.LookUpAsync(asks, cancel);
            open = [.. asks.SelectMany(links.Linked).Select(other => other.Id).Where(all.Add)];
        }

        if (all.Count == 1) return all;
        var states = await new StateRows(database, organisation).LoadAsync<Known>(ThingKeys.NameOf(kind), all, cancel);
        var stays = StaysAs(id);
        return [.. all.Where(each => each == id || StaysAs(each) == stays)];

        string StaysAs(string each) => states.GetValueOrDefault(each)?.SameAs ?? each;
    }

    private sealed record Known(string Id, string? SameAs);
}
