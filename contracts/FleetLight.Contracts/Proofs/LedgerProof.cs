using System.Buffers;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Views;

namespace FleetLight.Contracts.Proofs;

/// <summary>What does not hold of a proof of the ledger.</summary>
public enum ProofFault
{
    /// <summary>Something of it is not written as the contract says.</summary>
    Unreadable,

    /// <summary>The checkpoint names a key that is not believed.</summary>
    KeyUnknown,

    /// <summary>The checkpoint does not bear the signature of the key that it names.</summary>
    SignatureWrong,

    /// <summary>It is of another organisation.</summary>
    OfAnother,

    /// <summary>The line is that of another fact than was asked for.</summary>
    AnotherFact,

    /// <summary>The line says another place than the proof.</summary>
    AnotherPlace,

    /// <summary>The line does not have the hash that is stated for it.</summary>
    LineAltered,

    /// <summary>The hashes do not lead from the line, at that place, to the root of the checkpoint.</summary>
    NotIncluded,

    /// <summary>The later checkpoint does not begin with everything that the earlier one had.</summary>
    OtherHistory,
}

/// <summary>Why a proof does not hold.</summary>
/// <param name="Fault">What is wrong.</param>
/// <param name="Says">The same in plain words.</param>
public sealed record ProofFinding(ProofFault Fault, string Says);

/// <summary>
/// Checks what the ledger hands out, by keys and checkpoints that somebody believes. Only what is signed counts, never what stands beside it.
/// Whatever is handed in, the answer is none where it holds, else the first thing that does not.
/// </summary>
public static class LedgerProof
{
    /// <summary>Reads a signed checkpoint.</summary>
    /// <param name="jws">The signed text.</param>
    /// <param name="believed">Keys that are believed.</param>
    /// <param name="note">What it says; none where it does not hold.</param>
    public static ProofFinding? Checkpoint(string? jws, IReadOnlyList<CheckpointKey> believed, out CheckpointNote? note)
    {
        var (verdict, read, keyId) = CheckpointSeal.Check(jws ?? "", believed);
        note = verdict == SealVerdict.Holds ? read : null;
        return verdict switch
        {
            SealVerdict.Holds => null,
            SealVerdict.KeyUnknown => new ProofFinding(ProofFault.KeyUnknown, $"The checkpoint names the key {keyId}, which is none of those that are believed."),
            SealVerdict.SignatureWrong => new ProofFinding(ProofFault.SignatureWrong, $"The checkpoint does not bear the signature of the key {keyId}: it was altered."),
            _ => new ProofFinding(ProofFault.Unreadable, "The checkpoint cannot be read."),
        };
    }

    /// <summary>Checks that a fact is in the ledger (RFC 9162, 2.1.3.2).</summary>
    /// <param name="proof">What the service answered; the checkpoint in it does not count.</param>
    /// <param name="fact">The fact that was asked for, <c>source#id</c>.</param>
    /// <param name="checkpoint">The checkpoint in which it has to be.</param>
    public static ProofFinding? Inclusion(InclusionView proof, string fact, CheckpointNote checkpoint)
    {
        if (LineOf(proof.Line) is not { } line) return new ProofFinding(ProofFault.Unreadable, "The line is no line of a ledger.");
        if (Hashes(proof.Path) is not { } path) return new ProofFinding(ProofFault.Unreadable, "A hash of the path is not 64 hexadecimal digits.");
        if (line.Organisation != checkpoint.Organisation)
            return new ProofFinding(ProofFault.OfAnother, $"The line is of the organisation {line.Organisation}, the checkpoint of {checkpoint.Organisation}.");
        if (line.Fact != fact) return new ProofFinding(ProofFault.AnotherFact, $"The line is that of the fact {line.Fact}; {fact} was asked for.");
        if (line.Index != proof.Index)
            return new ProofFinding(ProofFault.AnotherPlace, FormattableString.Invariant($"The line says place {line.Index}, the proof place {proof.Index}."));
        var leaf = MerkleHash.Leaf(Encoding.UTF8.GetBytes(proof.Line));
        if (Hash(proof.LeafHash) is not { } stated || !leaf.AsSpan().SequenceEqual(stated))
            return new ProofFinding(ProofFault.LineAltered, $"The line has the hash {Convert.ToHexStringLower(leaf)}, and not the one that is stated for it.");
        return MerkleProof.Includes(leaf, proof.Index, checkpoint.Size, checkpoint.Root, path)
            ? null
            : new ProofFinding(ProofFault.NotIncluded, FormattableString.Invariant(
                $"The hashes do not lead from the line at place {proof.Index} to the root {Convert.ToHexStringLower(checkpoint.Root)} of {checkpoint.Size} facts."));
    }

    /// <summary>Checks that the ledger of a later checkpoint begins with that of an earlier one (RFC 9162, 2.1.4.2).</summary>
    /// <param name="path">The hashes that the service answered.</param>
    /// <param name="before">The earlier checkpoint.</param>
    /// <param name="after">The later one.</param>
    public static ProofFinding? Consistency(IReadOnlyList<string> path, CheckpointNote before, CheckpointNote after)
    {
        if (before.Organisation != after.Organisation)
            return new ProofFinding(ProofFault.OfAnother, $"One checkpoint is of the organisation {before.Organisation}, the other of {after.Organisation}.");
        if (before.Size > after.Size)
        {
            return new ProofFinding(ProofFault.OtherHistory, FormattableString.Invariant(
                $"The ledger had {before.Size} facts and has {after.Size}: facts are gone, or it is of another history."));
        }

        if (Hashes(path) is not { } hashes) return new ProofFinding(ProofFault.Unreadable, "A hash of the path is not 64 hexadecimal digits.");
        return MerkleProof.GoesOn(before.Size, before.Root, after.Size, after.Root, hashes)
            ? null
            : new ProofFinding(ProofFault.OtherHistory, FormattableString.Invariant(
                $"It is not shown that the ledger of {after.Size} facts begins with the {before.Size} that were signed before."));
    }

    private static (string Organisation, string Fact, long Index)? LineOf(string? text)
    {
        try
        {
            // A member that stands twice would be one thing to this reader and another to the next.
            using var document = JsonDocument.Parse(text ?? "", new JsonDocumentOptions { AllowDuplicateProperties = false });
            var (root, of) = (document.RootElement, document.RootElement.GetProperty("event"));
            return (root.GetProperty("organisation").GetString()!, $"{of.GetProperty("source").GetString()}#{of.GetProperty("id").GetString()}",
                root.GetProperty("index").GetInt64());
        }
        catch (Exception unread) when (unread is JsonException or KeyNotFoundException or InvalidOperationException or FormatException or ArgumentException)
        {
            return null;
        }
    }

    private static byte[][]? Hashes(IReadOnlyList<string>? texts)
    {
        var hashes = texts?.Select(Hash).OfType<byte[]>().ToArray();
        return hashes?.Length == texts?.Count ? hashes : null;
    }

    private static byte[]? Hash(string? text)
    {
        var hash = new byte[MerkleHash.Length];
        return text?.Length == 2 * MerkleHash.Length && Convert.FromHexString(text, hash, out _, out _) == OperationStatus.Done ? hash : null;
    }
}
