using System.Text.Json.Serialization;

namespace FleetLight.Contracts.Views;

/// <summary>A signed statement that the ledger of an organisation had so many facts, with that root, by then.</summary>
public sealed record CheckpointView
{
    /// <summary>Whose ledger.</summary>
    public required string Organisation { get; init; }

    /// <summary>Number of facts that it had.</summary>
    public required long Size { get; init; }

    /// <summary>Root of the Merkle tree over them (RFC 9162, SHA-256), 64 hexadecimal digits.</summary>
    public required string Root { get; init; }

    /// <summary>When it was made, by the service's clock.</summary>
    public required DateTimeOffset MadeAt { get; init; }

    /// <summary>Name of the key that signed it, as in the set of keys.</summary>
    public required string KeyId { get; init; }

    /// <summary>The same, signed: a JSON Web Signature in compact form (RFC 7515), ES256. Believe what stands in it, not what stands beside it.</summary>
    public required string Jws { get; init; }
}

/// <summary>A fact of the ledger with the proof that it is in it.</summary>
public sealed record InclusionView
{
    /// <summary>The fact, <c>source#id</c>.</summary>
    public required string Fact { get; init; }

    /// <summary>Its place in the ledger, a number without a unit, from 0.</summary>
    public required long Index { get; init; }

    /// <summary>Its line, as the export has it, without the line break.</summary>
    public required string Line { get; init; }

    /// <summary>Its leaf hash: SHA-256 over a byte 0 and the line, 64 hexadecimal digits.</summary>
    public required string LeafHash { get; init; }

    /// <summary>Hashes from the leaf to the root (RFC 9162, 2.1.3), 64 hexadecimal digits each.</summary>
    public required IReadOnlyList<string> Path { get; init; }

    /// <summary>The checkpoint against which it is proved.</summary>
    public required CheckpointView Checkpoint { get; init; }
}

/// <summary>The proof that a ledger goes on from what it was.</summary>
public sealed record ConsistencyView
{
    /// <summary>The smaller size, a number without a unit.</summary>
    public required long First { get; init; }

    /// <summary>Root of the tree of that size, 64 hexadecimal digits.</summary>
    public required string FirstRoot { get; init; }

    /// <summary>The larger size, a number without a unit.</summary>
    public required long Second { get; init; }

    /// <summary>Root of the tree of that size, 64 hexadecimal digits.</summary>
    public required string SecondRoot { get; init; }

    /// <summary>Hashes that lead from the one to the other (RFC 9162, 2.1.4), 64 hexadecimal digits each.</summary>
    public required IReadOnlyList<string> Path { get; init; }
}

/// <summary>A digest over the facts from which the states of a site follow.</summary>
public sealed record SiteLedgerView
{
    /// <summary>The site.</summary>
    public required string SiteId { get; init; }

    /// <summary>Number of its facts that the ledger has.</summary>
    public required long Facts { get; init; }

    /// <summary>Number of its facts that were recorded and are not in the ledger yet.</summary>
    public required long Waiting { get; init; }

    /// <summary>SHA-256 over the leaf hashes of those that it has, sorted as bytes and put one behind the other, 64 hexadecimal digits.</summary>
    public required string Digest { get; init; }
}

/// <summary>A leaf of the ledger.</summary>
public sealed record LeafView
{
    /// <summary>Its place, a number without a unit, from 0.</summary>
    public required long Index { get; init; }

    /// <summary>The fact, <c>source#id</c>.</summary>
    public required string Fact { get; init; }

    /// <summary>Its hash, 64 hexadecimal digits.</summary>
    public required string LeafHash { get; init; }
}

/// <summary>Keys that signed checkpoints: a JSON Web Key Set (RFC 7517).</summary>
public sealed record LedgerKeySet
{
    /// <summary>The keys, the newest first. None is ever taken away, so that what it signed can be checked.</summary>
    public required IReadOnlyList<LedgerKey> Keys { get; init; }
}

/// <summary>A public key: ECDSA on the curve P-256 (RFC 7518, 6.2).</summary>
public sealed record LedgerKey
{
    /// <summary><c>EC</c>.</summary>
    public required string Kty { get; init; }

    /// <summary><c>P-256</c>.</summary>
    public required string Crv { get; init; }

    /// <summary>First coordinate, base64url.</summary>
    public required string X { get; init; }

    /// <summary>Second coordinate, base64url.</summary>
    public required string Y { get; init; }

    /// <summary>Its name: its thumbprint (RFC 7638).</summary>
    public required string Kid { get; init; }

    /// <summary><c>sig</c>.</summary>
    public required string Use { get; init; }

    /// <summary><c>ES256</c>.</summary>
    public required string Alg { get; init; }
}

/// <summary>What an export consists of, by which each part of it can be checked.</summary>
public sealed record ExportManifest
{
    /// <summary>The form of this document: <c>fleetlight-export-v1</c>.</summary>
    public required string Kind { get; init; }

    /// <summary>Whose facts.</summary>
    public required string Organisation { get; init; }

    /// <summary>Number of facts: the export holds the ledger up to a checkpoint, and never changes.</summary>
    public required long Size { get; init; }

    /// <summary>The checkpoint.</summary>
    public required CheckpointView Checkpoint { get; init; }

    /// <summary>Keys with which it can be checked. Whoever wants to be sure takes them from elsewhere.</summary>
    public required LedgerKeySet Keys { get; init; }

    /// <summary>Pictures in hand, by their digests; <c>/v1/attachments/{sha256}</c> has their bytes.</summary>
    public required IReadOnlyList<ExportAttachment> Attachments { get; init; }

    /// <summary>The file of facts.</summary>
    public required ExportFile Facts { get; init; }
}

/// <summary>Bytes in hand.</summary>
/// <param name="Sha256">Their SHA-256, 64 hexadecimal digits.</param>
/// <param name="MediaType">Media type.</param>
/// <param name="SizeBytes">Number of bytes.</param>
public sealed record ExportAttachment(string Sha256, string MediaType, int SizeBytes);

/// <summary>A file of an export.</summary>
/// <param name="Path">Where it is fetched.</param>
/// <param name="MediaType">Media type.</param>
/// <param name="Bytes">Number of bytes.</param>
/// <param name="Sha256">SHA-256 of its bytes, 64 hexadecimal digits.</param>
public sealed record ExportFile(string Path, string MediaType, long Bytes, string Sha256)
{
    /// <summary>The same digest as a header would say it (RFC 9530).</summary>
    [JsonIgnore]
    public string ReprDigest => $"sha-256=:{Convert.ToBase64String(Convert.FromHexString(Sha256))}:";
}
