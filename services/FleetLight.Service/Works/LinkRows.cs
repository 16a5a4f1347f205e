using FleetLight.Contracts.Views;
using FleetLight.Record.Works;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>Which thing leans on which: what the store knows, looked up once, and what the page at hand adds.</summary>
public sealed class LinkRows(NpgsqlDataSource database, string organisation)
{
    private static readonly IReadOnlyCollection<ThingRef> None = [];

    private readonly HashSet<(ThingRef From, ThingRef To)> added = [];
    private readonly Dictionary<(ThingRef Thing, bool Backwards), HashSet<ThingRef>> known = [];
    private readonly HashSet<(ThingRef Thing, bool Backwards)> missing = [];

    /// <summary>Adds links of this page, before any is asked for.</summary>
    public void Add(IEnumerable<(ThingRef From, ThingRef To)> edges) => added.UnionWith(edges);

    /// <summary>The links of this page.</summary>
    public IReadOnlyCollection<(ThingRef From, ThingRef To)> Added => added;

    /// <summary>The things at the other ends of these things' links, whichever way they lean.</summary>
    public async Task<IReadOnlyList<(ThingRef Thing, IReadOnlyList<ThingRef> Others)>> NeighboursAsync(
        IReadOnlyCollection<ThingRef> things, CancellationToken cancel)
    {
        foreach (var thing in things) missing.UnionWith([(thing, false), (thing, true)]);
        await FetchAsync(cancel);
        return [.. things.Select(thing => (thing, (IReadOnlyList<ThingRef>)[.. known[(thing, false)], .. known[(thing, true)]]))];
    }

    /// <summary>Writes the links of this page with the page's other changes.</summary>
    public void Save(PageWrites writes)
    {
        if (added.Count == 0) return;
        writes.Sql(
            $"insert into fl_link (tenant_id, from_thing, to_thing) select ?, pair.* from unnest(?, ?) as pair on conflict do nothing",
            organisation, added.Select(edge => ThingKeys.Of(edge.From)).ToArray(), added.Select(edge => ThingKeys.Of(edge.To)).ToArray());
    }

    /// <summary>The things at the other end of a thing's links; none, and remembered as missing, where it was not looked up yet.</summary>
    public IReadOnlyCollection<ThingRef> Linked(LinkAsk ask)
    {
        if (known.TryGetValue((ask.Thing, ask.Backwards), out var others)) return [.. others.Where(other => other.Kind == ask.Kind)];
        missing.Add((ask.Thing, ask.Backwards));
        return None;
    }

    /// <summary>Looks up the links of these things.</summary>
    public Task LookUpAsync(IEnumerable<LinkAsk> asks, CancellationToken cancel)
    {
        missing.UnionWith(asks.Select(ask => (ask.Thing, ask.Backwards)));
        return FetchAsync(cancel);
    }

    /// <summary>Looks up what was missing; says whether anything was.</summary>
    public async Task<bool> FetchAsync(CancellationToken cancel)
    {
        missing.ExceptWith(known.Keys);
        if (missing.Count == 0) return false;
        foreach (var backwards in (bool[])[false, true])
        {
            var things = missing.Where(each => each.Backwards == backwards).Select(each => each.Thing).ToArray();
            if (things.Length > 0) await FetchAsync(things, backwards, cancel);
        }

        missing.Clear();
        return true;
    }

    private async Task FetchAsync(ThingRef[] things, bool backwards, CancellationToken cancel)
    {
        foreach (var thing in things) known[(thing, backwards)] = [];
        foreach (var (from, to) in added) Take(from, to, backwards);
        var (near, far) = backwards ? ("to_thing", "from_thing") : ("from_thing", "to_thing");
        await using var command = database.CreateCommand(
            $"""
            select l.{near}, l.{far} from unnest($2) as wanted(thing) cross join lateral
            (select {near}, {far} from fl_link where tenant_id = $1 and {near} = wanted.thing offset 0) as l
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = things.Select(ThingKeys.Of).ToArray() });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        while (await reader.ReadAsync(cancel))
            known[(ThingKeys.Read(reader.GetString(0)), backwards)].Add(ThingKeys.Read(reader.GetString(1)));
    }

    private void Take(ThingRef from, ThingRef to, bool backwards)
    {
        if (known.TryGetValue((backwards ? to : from, backwards), out var others)) others.Add(backwards ? from : to);
    }
}
