using FleetLight.Contracts.Proofs;
using FleetLight.Record.Ledger;

namespace FleetLight.Record.Tests.Ledger;

/// <summary>Trees in memory, worked out straight from the definition (RFC 9162, 2.1.1) and not as the ledger does it.</summary>
internal static class Trees
{
    /// <summary>The leaf hashes of so many different leaves.</summary>
    public static byte[][] Leaves(int count) => [.. Enumerable.Range(0, count).Select(index => MerkleHash.Leaf(BitConverter.GetBytes(index)))];

    /// <summary>MTH(D[n]), by recursion.</summary>
    public static byte[] Root(ReadOnlySpan<byte[]> leaves)
    {
        if (leaves.Length == 0) return MerkleHash.Empty;
        if (leaves.Length == 1) return leaves[0];
        int half = 1;
        while (half * 2 < leaves.Length) half *= 2;
        return MerkleHash.Node(Root(leaves[..half]), Root(leaves[half..]));
    }

    /// <summary>The hash of a whole node, by recursion.</summary>
    public static Func<MerkleNode, byte[]> Nodes(byte[][] leaves) =>
        node => Root(leaves.AsSpan((int)(node.Index << node.Level), 1 << node.Level));

    public static byte[][] Inclusion(byte[][] leaves, int leaf, int size) =>
        [.. MerkleTree.Inclusion(leaf, size).Select(part => MerkleTree.HashOf(part.From, part.To, Nodes(leaves)))];

    public static byte[][] Consistency(byte[][] leaves, int first, int second) =>
        [.. MerkleTree.Consistency(first, second).Select(part => MerkleTree.HashOf(part.From, part.To, Nodes(leaves)))];
}
