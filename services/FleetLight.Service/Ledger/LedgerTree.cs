using FleetLight.Record.Ledger;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Ledger;

/// <summary>Reads the hashes of an organisation's tree from which its root and its proofs are made.</summary>
public static class LedgerTree
{
    /// <summary>The hashes of these stretches of leaves, each one where a subtree of the tree begins.</summary>
    public static async Task<IReadOnlyList<byte[]>> HashesAsync(
        NpgsqlConnection connection, string organisation, IReadOnlyList<(long From, long To)> stretches, CancellationToken cancel)
    {
        var nodes = await NodesAsync(connection, organisation, stretches.SelectMany(each => MerkleTree.Peaks(each.From, each.To)), cancel);
        return [.. stretches.Select(each => MerkleTree.HashOf(each.From, each.To, node => nodes[node]))];
    }

    /// <summary>The right edge of the tree of that size.</summary>
    public static async Task<MerkleFrontier> EdgeAsync(NpgsqlConnection connection, string organisation, long size, CancellationToken cancel)
    {
        var nodes = await NodesAsync(connection, organisation, MerkleTree.Peaks(0, size), cancel);
        return new MerkleFrontier(size, node => nodes[node]);
    }

    private static async Task<Dictionary<MerkleNode, byte[]>> NodesAsync(
        NpgsqlConnection connection, string organisation, IEnumerable<MerkleNode> nodes, CancellationToken cancel)
    {
        var found = new Dictionary<MerkleNode, byte[]>();
        MerkleNode[] wanted = [.. nodes.Distinct()];
        var kept = new Dictionary<MerkleNode, byte[]>();
        foreach (var isLeaf in (bool[])[true, false])
        {
            var under = wanted.Select(KeptNodes.Under).Where(each => each.Level == 0 == isLeaf).ToArray();
            if (under.Length == 0) continue;
            // Constant text: which tables an organisation's hashes come from is for the test of statements to see.
            await ReadAsync(connection, isLeaf
                ? $"""
                  select 0, l.leaf, l.hash from unnest($2::int[], $3::bigint[], $4::bigint[]) as wanted(level, first, last) cross join lateral
                  (select leaf, hash from {Tables.Schema}.fl_ledger_leaf where tenant_id = $1 and leaf between wanted.first and wanted.last) as l
                  """
                : $"""
                  select wanted.level, n.node, n.hash from unnest($2::int[], $3::bigint[], $4::bigint[]) as wanted(level, first, last) cross join lateral
                  (select node, hash from {Tables.Schema}.fl_ledger_node where tenant_id = $1 and level = wanted.level and node between wanted.first and wanted.last) as n
                  """, organisation, under, kept, cancel);
        }

        foreach (var node in wanted)
        {
            var (level, first, count) = KeptNodes.Under(node);
            var hashes = new byte[count][];
            for (var index = 0; index < count; index++)
            {
                hashes[index] = kept.GetValueOrDefault(new MerkleNode(level, first + index))
                    ?? throw new InvalidDataException($"The ledger of {organisation} lacks the hash {first + index} of level {level}.");
            }

            found[node] = KeptNodes.Fold(hashes);
        }

        return found;
    }

    private static async Task ReadAsync(
        NpgsqlConnection connection, string sql, string organisation, (int Level, long First, int Count)[] under, Dictionary<MerkleNode, byte[]> into,
        CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        foreach (var value in (object[])
                 [
                     organisation, under.Select(each => each.Level).ToArray(), under.Select(each => each.First).ToArray(),
                     under.Select(each => each.First + each.Count - 1).ToArray(),
                 ])
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        while (await reader.ReadAsync(cancel)) into[new MerkleNode(reader.GetInt32(0), reader.GetInt64(1))] = reader.GetFieldValue<byte[]>(2);
    }
}
