using FleetLight.Contracts.Proofs;
using FleetLight.Record.Ledger;

namespace FleetLight.Record.Tests.Ledger;

/// <summary>Every proof of every size up to 200 holds, and none of another tree, place or size does.</summary>
public sealed class MerkleLawTests
{
    private const int Most = 200;
    private static readonly byte[][] Leaves = Trees.Leaves(Most);
    private static readonly byte[][] Roots = [.. Enumerable.Range(0, Most + 1).Select(size => Trees.Root(Leaves.AsSpan(0, size)))];

    [Fact]
    public void Roots_are_those_of_the_definition()
    {
        MerkleFrontier edge = new();
        Assert.Equal(Roots[0], edge.Root);
        for (int size = 1; size <= Most; size++)
        {
            edge.Add(Leaves[size - 1]);
            Assert.Equal(Roots[size], edge.Root);
            Assert.Equal(Roots[size], new MerkleFrontier(size, Trees.Nodes(Leaves)).Root);
        }
    }

    [Fact]
    public void Every_leaf_is_proved_in_every_size_and_nowhere_else()
    {
        for (int size = 1; size <= Most; size += size < 40 ? 1 : 7)
        {
            for (int leaf = 0; leaf < size; leaf++)
            {
                byte[][] path = Trees.Inclusion(Leaves, leaf, size);
                Assert.True(MerkleProof.Includes(Leaves[leaf], leaf, size, Roots[size], path));
                Assert.False(MerkleProof.Includes(Leaves[leaf], leaf, size, Roots[size - 1], path));
                Assert.False(MerkleProof.Includes(Leaves[(leaf + 1) % Most], leaf, size, Roots[size], path));
                if (size > 1) Assert.False(MerkleProof.Includes(Leaves[leaf], (leaf + 1) % size, size, Roots[size], path));
                Assert.False(MerkleProof.Includes(Leaves[leaf], leaf, size, Roots[size], [.. path, Leaves[0]]));
                if (path.Length > 0) Assert.False(MerkleProof.Includes(Leaves[leaf], leaf, size, Roots[size], path[..^1]));
            }
        }
    }

    [Fact]
    public void Every_size_goes_on_from_every_smaller_one()
    {
        for (int second = 0; second <= Most; second += second < 40 ? 1 : 7)
        {
            for (int first = 0; first <= second; first++)
            {
                byte[][] path = Trees.Consistency(Leaves, first, second);
                Assert.True(MerkleProof.GoesOn(first, Roots[first], second, Roots[second], path));
                if (first == 0) continue;
                Assert.False(MerkleProof.GoesOn(first, Roots[first - 1], second, Roots[second], path));
                Assert.False(MerkleProof.GoesOn(first, Roots[first], second, Roots[second - 1], path));
                Assert.False(MerkleProof.GoesOn(first, Roots[first], second, Roots[second], [.. path, Leaves[0]]));
            }
        }
    }

    [Fact]
    public void No_altered_bit_passes()
    {
        foreach ((int leaf, int size) in new[] { (0, 7), (5, 8), (76, 77), (76, 200), (199, 200) })
        {
            byte[][] path = Trees.Inclusion(Leaves, leaf, size);
            for (int step = -2; step < path.Length; step++)
            {
                for (int bit = 0; bit < 256; bit++)
                {
                    byte[][] changed = [.. path.Select((hash, index) => index == step ? Flip(hash, bit) : hash)];
                    Assert.False(MerkleProof.Includes(
                        step == -2 ? Flip(Leaves[leaf], bit) : Leaves[leaf], leaf, size, step == -1 ? Flip(Roots[size], bit) : Roots[size], changed));
                }
            }
        }

        foreach ((int first, int second) in new[] { (4, 7), (6, 8), (64, 200), (76, 77), (199, 200) })
        {
            byte[][] path = Trees.Consistency(Leaves, first, second);
            for (int step = -2; step < path.Length; step++)
            {
                for (int bit = 0; bit < 256; bit++)
                {
                    byte[][] changed = [.. path.Select((hash, index) => index == step ? Flip(hash, bit) : hash)];
                    Assert.False(MerkleProof.GoesOn(
                        first, step == -2 ? Flip(Roots[first], bit) : Roots[first], second, step == -1 ? Flip(Roots[second], bit) : Roots[second], changed));
                }
            }
        }
    }

    [Fact]
    public void Nonsense_is_answered_with_no()
    {
        Assert.False(MerkleProof.Includes(Leaves[0], 0, 0, Roots[0], []));
        Assert.False(MerkleProof.Includes(Leaves[0], -1, 3, Roots[3], []));
        Assert.False(MerkleProof.Includes(Leaves[0], 3, 3, Roots[3], []));
        Assert.False(MerkleProof.Includes([], 0, 1, Roots[1], []));
        Assert.False(MerkleProof.Includes(Leaves[0], 0, 2, Roots[2], [[1, 2]]));
        Assert.False(MerkleProof.GoesOn(3, Roots[3], 2, Roots[2], []));
        Assert.False(MerkleProof.GoesOn(3, Roots[3], 5, Roots[5], []));
        Assert.False(MerkleProof.GoesOn(2, [], 5, Roots[5], Trees.Consistency(Leaves, 2, 5)));
        Assert.False(MerkleProof.GoesOn(0, Roots[1], 5, Roots[5], []));
        Assert.Throws<ArgumentOutOfRangeException>(() => MerkleTree.Inclusion(3, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => MerkleTree.Consistency(4, 3));
    }

    [Fact]
    public void Kept_nodes_are_enough_for_every_node()
    {
        const int size = 70_000;
        byte[][] leaves = Trees.Leaves(size);
        MerkleFrontier edge = new();
        Dictionary<MerkleNode, byte[]> kept = [];
        for (int leaf = 0; leaf < size; leaf++)
        {
            kept[new MerkleNode(0, leaf)] = leaves[leaf];
            foreach ((MerkleNode node, byte[] hash) in edge.Add(leaves[leaf]))
            {
                if (KeptNodes.IsKept(node)) kept[node] = hash;
            }
        }

        Assert.Equal(size + (size / 256) + (size / 65_536), kept.Count);
        Func<MerkleNode, byte[]> straight = Trees.Nodes(leaves);
        foreach (MerkleNode node in MerkleTree.Peaks(0, size).Concat(MerkleTree.Peaks(65_536, size)).Append(new MerkleNode(5, 77)).Append(new MerkleNode(13, 2)))
        {
            (int level, long first, int count) = KeptNodes.Under(node);
            byte[][] under = [.. Enumerable.Range(0, count).Select(index => kept[new MerkleNode(level, first + index)])];
            Assert.Equal(straight(node), KeptNodes.Fold(under));
        }

        Assert.Equal(Trees.Root(leaves), edge.Root);
    }

    private static byte[] Flip(byte[] hash, int bit)
    {
        byte[] changed = [.. hash];
        changed[bit / 8] ^= (byte)(1 << (bit % 8));
        return changed;
    }
}
