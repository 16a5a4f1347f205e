using FleetLight.Contracts.Proofs;

namespace FleetLight.Record.Ledger;

/// <summary>
/// Which nodes of a tree are kept: the leaves, and of those above them one in eight levels. A node between is at most 128 hashes
/// away from those below it, so keeping a tree costs a 256th part more than keeping its leaves, and a proof reads a few hundred rows.
/// </summary>
public static class KeptNodes
{
    /// <summary>Levels from one that is kept to the next.</summary>
    public const int Step = 8;

    /// <summary>Whether a node is kept beside the leaves.</summary>
    public static bool IsKept(MerkleNode node) => node.Level > 0 && node.Level % Step == 0;

    /// <summary>The kept nodes of which a node is made: their level, the first of them, and how many.</summary>
    public static (int Level, long First, int Count) Under(MerkleNode node)
    {
        var above = node.Level % Step;
        return (node.Level - above, node.Index << above, 1 << above);
    }

    /// <summary>The hash of a node from those under it, in their order: as many as a power of two.</summary>
    public static byte[] Fold(ReadOnlySpan<byte[]> under)
    {
        if (under.Length == 0 || !int.IsPow2(under.Length)) throw new ArgumentException("A whole node is made of 1, 2, 4, … others.", nameof(under));
        var hashes = under.ToArray();
        for (var left = hashes.Length; left > 1; left /= 2)
        {
            for (var index = 0; index < left / 2; index++) hashes[index] = MerkleHash.Node(hashes[2 * index], hashes[(2 * index) + 1]);
        }

        return hashes[0];
    }
}
