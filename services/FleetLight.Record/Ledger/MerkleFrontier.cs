using FleetLight.Contracts.Proofs;

namespace FleetLight.Record.Ledger;

/// <summary>
/// The right edge of a growing tree: the whole nodes of which its root is made. A leaf is added without any of those before it,
/// and what becomes whole through it is handed out once.
/// </summary>
public sealed class MerkleFrontier
{
    private readonly List<(MerkleNode Node, byte[] Hash)> peaks = [];

    /// <summary>The edge of the tree without a leaf.</summary>
    public MerkleFrontier()
    {
    }

    /// <summary>The edge of a tree of that size.</summary>
    public MerkleFrontier(long size, Func<MerkleNode, byte[]> hashes)
    {
        Size = size;
        foreach (var peak in MerkleTree.Peaks(0, size)) peaks.Add((peak, hashes(peak)));
    }

    /// <summary>How many leaves the tree has.</summary>
    public long Size { get; private set; }

    /// <summary>The tree's root.</summary>
    public byte[] Root
    {
        get
        {
            if (peaks.Count == 0) return MerkleHash.Empty;
            var hash = peaks[^1].Hash;
            for (var index = peaks.Count - 2; index >= 0; index--) hash = MerkleHash.Node(peaks[index].Hash, hash);
            return hash;
        }
    }

    /// <summary>Adds a leaf, and hands out the nodes above it that are whole now.</summary>
    public IReadOnlyList<(MerkleNode Node, byte[] Hash)> Add(byte[] leafHash)
    {
        var made = new List<(MerkleNode, byte[])>();
        var (node, hash) = (new MerkleNode(0, Size), leafHash);
        while (peaks is [.., var left] && left.Node.Level == node.Level)
        {
            peaks.RemoveAt(peaks.Count - 1);
            (node, hash) = (new MerkleNode(node.Level + 1, node.Index >> 1), MerkleHash.Node(left.Hash, hash));
            made.Add((node, hash));
        }

        peaks.Add((node, hash));
        Size++;
        return made;
    }
}
