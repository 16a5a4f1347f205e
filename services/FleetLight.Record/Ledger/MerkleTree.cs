using System.Numerics;
using FleetLight.Contracts.Proofs;

namespace FleetLight.Record.Ledger;

/// <summary>A node under which every leaf is there: the hash of 2^level leaves.</summary>
/// <param name="Level">How far above the leaves, 0 to 62.</param>
/// <param name="Index">Its place among the nodes of its level, from 0.</param>
public readonly record struct MerkleNode(int Level, long Index);

/// <summary>
/// Which hashes make the root of a tree and the proofs of it (RFC 9162, 2.1). It says the names of nodes only; whoever has their
/// hashes, in memory or in a table, hands them in. Sizes are numbers of leaves.
/// </summary>
public static class MerkleTree
{
    /// <summary>The whole nodes from a leaf to before another, left to right; the leaf is where a subtree of the tree begins.</summary>
    public static IReadOnlyList<MerkleNode> Peaks(long from, long to)
    {
        var peaks = new List<MerkleNode>();
        while (from < to)
        {
            var level = BitOperations.Log2((ulong)(to - from));
            peaks.Add(new MerkleNode(level, from >> level));
            from += 1L << level;
        }

        return peaks;
    }

    /// <summary>The hash over leaves from one to before another.</summary>
    public static byte[] HashOf(long from, long to, Func<MerkleNode, byte[]> hashes)
    {
        var peaks = Peaks(from, to);
        if (peaks.Count == 0) return MerkleHash.Empty;
        var hash = hashes(peaks[^1]);
        for (var index = peaks.Count - 2; index >= 0; index--) hash = MerkleHash.Node(hashes(peaks[index]), hash);
        return hash;
    }

    /// <summary>The root of the first leaves.</summary>
    public static byte[] Root(long size, Func<MerkleNode, byte[]> hashes) => HashOf(0, size, hashes);

    /// <summary>The stretches of leaves whose hashes prove that a leaf is in the tree, nearest first (2.1.3.1).</summary>
    public static IReadOnlyList<(long From, long To)> Inclusion(long leaf, long size)
    {
        if (leaf < 0 || leaf >= size) throw new ArgumentOutOfRangeException(nameof(leaf), "The tree has no such leaf.");
        var path = new List<(long, long)>();
        var (from, to) = (0L, size);
        while (to - from > 1)
        {
            var middle = from + Half(to - from);
            if (leaf < middle)
            {
                path.Add((middle, to));
                to = middle;
            }
            else
            {
                path.Add((from, middle));
                from = middle;
            }
        }

        path.Reverse();
        return path;
    }

    /// <summary>The stretches of leaves whose hashes prove that a tree goes on from a smaller one (2.1.4.1); none where one of them is empty or both are one.</summary>
    public static IReadOnlyList<(long From, long To)> Consistency(long first, long second)
    {
        if (first < 0 || first > second) throw new ArgumentOutOfRangeException(nameof(first), "The first tree is no larger than the second.");
        var path = new List<(long, long)>();
        if (first == 0 || first == second) return path;
        var (from, to, whole) = (0L, second, true);
        while (first != to)
        {
            var middle = from + Half(to - from);
            if (first <= middle)
            {
                path.Add((middle, to));
                to = middle;
            }
            else
            {
                path.Add((from, middle));
                from = middle;
                whole = false;
            }
        }

        // The first tree as a whole is known to whoever asks.
        if (!whole) path.Add((from, to));
        path.Reverse();
        return path;
    }

    // The largest power of two below the number of leaves.
    private static long Half(long leaves) => 1L << BitOperations.Log2((ulong)(leaves - 1));
}
