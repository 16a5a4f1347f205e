namespace FleetLight.Contracts.Proofs;

/// <summary>Checks proofs of a Merkle tree as RFC 9162 says (2.1.3.2 and 2.1.4.2). Whatever is handed in, the answer is yes or no.</summary>
public static class MerkleProof
{
    /// <summary>Whether the leaf of that hash stands at that place, from 0, of the tree of that size and root.</summary>
    public static bool Includes(ReadOnlySpan<byte> leafHash, long leaf, long size, ReadOnlySpan<byte> root, IReadOnlyList<byte[]> path)
    {
        if (leaf < 0 || leaf >= size || !AreHashes(path) || leafHash.Length != MerkleHash.Length) return false;
        var (place, last, hash) = (leaf, size - 1, leafHash.ToArray());
        foreach (var step in path)
        {
            if (last == 0) return false;
            if ((place & 1) == 1 || place == last)
            {
                hash = MerkleHash.Node(step, hash);
                while ((place & 1) == 0 && place != 0) (place, last) = (place >> 1, last >> 1);
            }
            else
            {
                hash = MerkleHash.Node(hash, step);
            }

            (place, last) = (place >> 1, last >> 1);
        }

        return last == 0 && root.SequenceEqual(hash);
    }

    /// <summary>Whether the second tree begins with all leaves of the first, in their order.</summary>
    public static bool GoesOn(long first, ReadOnlySpan<byte> firstRoot, long second, ReadOnlySpan<byte> secondRoot, IReadOnlyList<byte[]> path)
    {
        if (first < 0 || first > second || !AreHashes(path)) return false;
        if (first == second) return path.Count == 0 && firstRoot.SequenceEqual(secondRoot);
        // Every tree begins with no leaf.
        if (first == 0) return path.Count == 0 && firstRoot.SequenceEqual(MerkleHash.Empty);
        var steps = long.IsPow2(first) ? [firstRoot.ToArray(), .. path] : path;
        if (steps.Count == 0 || firstRoot.Length != MerkleHash.Length) return false;
        var (place, last) = (first - 1, second - 1);
        while ((place & 1) == 1) (place, last) = (place >> 1, last >> 1);
        var (before, after) = (steps[0], steps[0]);
        foreach (var step in steps.Skip(1))
        {
            if (last == 0) return false;
            if ((place & 1) == 1 || place == last)
            {
                before = MerkleHash.Node(step, before);
                after = MerkleHash.Node(step, after);
                while ((place & 1) == 0 && place != 0) (place, last) = (place >> 1, last >> 1);
            }
            else
            {
                after = MerkleHash.Node(after, step);
            }

            (place, last) = (place >> 1, last >> 1);
        }

        return last == 0 && firstRoot.SequenceEqual(before) && secondRoot.SequenceEqual(after);
    }

    private static bool AreHashes(IReadOnlyList<byte[]> path) => path.All(step => step.Length == MerkleHash.Length);
}
