using System.Security.Cryptography;

namespace FleetLight.Contracts.Proofs;

/// <summary>The hashes of a Merkle tree (RFC 9162, 2.1.1): SHA-256, with a first byte that keeps leaves from being taken for nodes.</summary>
public static class MerkleHash
{
    /// <summary>Bytes of a hash.</summary>
    public const int Length = 32;

    /// <summary>Root of the tree without a leaf.</summary>
    public static byte[] Empty => SHA256.HashData([]);

    /// <summary>Hash of a leaf.</summary>
    public static byte[] Leaf(ReadOnlySpan<byte> bytes)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData([0x00]);
        hash.AppendData(bytes);
        return hash.GetHashAndReset();
    }

    /// <summary>Hash of the node above two others.</summary>
    public static byte[] Node(ReadOnlySpan<byte> left, ReadOnlySpan<byte> right)
    {
        Span<byte> both = stackalloc byte[1 + (2 * Length)];
        both[0] = 0x01;
        left.CopyTo(both[1..]);
        right.CopyTo(both[(1 + Length)..]);
        return SHA256.HashData(both);
    }
}
