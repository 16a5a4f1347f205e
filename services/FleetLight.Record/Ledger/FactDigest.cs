using System.Security.Cryptography;
using FleetLight.Contracts.Proofs;

namespace FleetLight.Record.Ledger;

/// <summary>
/// A digest over a set of facts, by their leaf hashes in the ledger: for a document that says on which facts it rests. It does not
/// depend on the order in which they are handed in, nor on one being there twice.
/// </summary>
public static class FactDigest
{
    /// <summary>
    /// SHA-256 over the leaf hashes (32 bytes each), sorted as bytes, each once, one behind the other; of no fact, over nothing.
    /// </summary>
    public static byte[] Of(IEnumerable<byte[]> leafHashes)
    {
        var sorted = leafHashes.ToList();
        sorted.Sort((one, other) => one.AsSpan().SequenceCompareTo(other));
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        byte[]? before = null;
        foreach (var leaf in sorted)
        {
            if (leaf.Length != MerkleHash.Length) throw new ArgumentException("A leaf hash has 32 bytes.", nameof(leafHashes));
            if (before is null || !leaf.AsSpan().SequenceEqual(before)) hash.AppendData(leaf);
            before = leaf;
        }

        return hash.GetHashAndReset();
    }
}
