using FleetLight.Contracts.Views;
using FleetLight.Service.Store;
using Marten;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>Which thing leans on which, in the store and in the page at hand.</summary>
public sealed class LinkRows(NpgsqlDataSource database, string organisation)
{
    private readonly HashSet<(string From, string To)> added = [];

    /// <summary>Adds links of this page.</summary>
    public void Add(IEnumerable<(ThingRef From, ThingRef To)> edges)
    {
        foreach (var (from, to) in edges) added.Add((ThingKeys.Of(from), ThingKeys.Of(to)));
    }

    /// <summary>Writes the links of this page with the page's other changes.</summary>
    public void Save(IDocumentOperations operations)
    {
        if (added.Count == 0) return;
        operations.QueueSqlCommand(
            $"insert into {Tables.Schema}.fl_link (tenant_id, from_thing, to_thing) select ?, pair.* from unnest(?, ?) as pair on conflict do nothing",
            organisation, added.Select(edge => edge.From).ToArray(), added.Select(edge => edge.To).ToArray());
    }

    /// <summary>Everything that leans on these things, directly or through others, with the links that lead there.</summary>
    public async Task<HashSet<string>> ClosureAsync(IEnumerable<string> things, HashSet<(string From, string To)> met, CancellationToken cancel)
    {
        var reached = things.ToHashSet(StringComparer.Ordinal);
        var frontier = reached.ToArray();
        while (frontier.Length > 0)
        {
            var edges = await FindAsync("from_thing", frontier, edge => edge.From, cancel);
            met.UnionWith(edges);
            frontier = [.. edges.Select(edge => edge.To).Distinct().Where(reached.Add)];
        }

        return reached;
    }

    /// <summary>The links that lead to these things.</summary>
    public Task<HashSet<(string From, string To)>> LeadingToAsync(IReadOnlyCollection<string> things, CancellationToken cancel) =>
        FindAsync("to_thing", things, edge => edge.To, cancel);

    private async Task<HashSet<(string From, string To)>> FindAsync(
        string column, IReadOnlyCollection<string> things, Func<(string From, string To), string> side, CancellationToken cancel)
    {
        var wanted = things.ToHashSet(StringComparer.Ordinal);
        var found = added.Where(edge => wanted.Contains(side(edge))).ToHashSet();
        if (wanted.Count == 0) return found;
        await using var command = database.CreateCommand(
            $"select from_thing, to_thing from {Tables.Schema}.fl_link where tenant_id = $1 and {column} = any($2)");
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = wanted.ToArray() });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        while (await reader.ReadAsync(cancel)) found.Add((reader.GetString(0), reader.GetString(1)));
        return found;
    }
}
