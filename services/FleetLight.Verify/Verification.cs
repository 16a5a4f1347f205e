using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;
using FleetLight.Record.Ledger;

namespace FleetLight.Verify;

/// <summary>One thing that was looked at.</summary>
/// <param name="Holds">Whether it holds; none where it could not be looked at.</param>
/// <param name="Says">What was found, in plain words.</param>
internal sealed record Finding(bool? Holds, string Says);

/// <summary>What is to be looked at.</summary>
/// <param name="Export">The export.</param>
/// <param name="Manifest">Its manifest, where there is one.</param>
/// <param name="Checkpoints">Checkpoints that were kept from before, or that of the export itself.</param>
/// <param name="Keys">Keys that are believed; none where only those of the manifest are at hand.</param>
/// <param name="Leaves">Leaf hashes of the ledger, where they are at hand.</param>
/// <param name="Pack">The list of facts of a handover pack, where one is to be checked.</param>
/// <param name="PackDigest">The digest that is printed in that pack, where somebody read it off.</param>
internal sealed record Verification(
    string Export, ExportManifest? Manifest, IReadOnlyList<GivenCheckpoint> Checkpoints, IReadOnlyList<CheckpointKey>? Keys, byte[][]? Leaves,
    PackList? Pack = null, string? PackDigest = null)
{
    /// <summary>Most findings of lines that are told one by one.</summary>
    public const int MostLines = 50;

    /// <summary>Looks at all of it.</summary>
    public async Task<IReadOnlyList<Finding>> RunAsync(CancellationToken cancel)
    {
        var findings = new List<Finding>();
        var keys = Keys ?? (Manifest is null ? [] : CheckpointKey.Of(Manifest.Keys));
        if (Keys is null && Manifest is not null)
            findings.Add(new Finding(null, "The keys are those of the manifest itself: whoever made it could have made them. Give keys that you have from elsewhere with --keys."));
        var own = Manifest is null ? null : Signed(new GivenCheckpoint("the manifest", Manifest.Checkpoint.Jws), keys, findings);
        var others = Checkpoints.Select(each => (each.From, Note: Signed(each, keys, findings))).Where(each => each.Note is not null).ToList();
        // Without a manifest the largest checkpoint is taken for that of the export.
        own ??= Manifest is null ? others.Select(each => each.Note).MaxBy(note => note!.Size) : null;

        var check = new ExportCheck([.. others.Select(each => each.Note!.Size), .. own is null ? [] : (long[])[own.Size]]);
        var (bytes, sha256, endsWhole) = await ExportReader.ReadAsync(
            Export,
            line =>
            {
                check.Add(line);
                Pack?.Add(line);
            },
            cancel);
        if (!endsWhole) findings.Add(new Finding(false, "The last line has no line break: the file was cut off."));
        if (Manifest is not null) Same(Manifest, bytes, sha256, findings);
        if (own is not null)
        {
            findings.Add(new Finding(check.Size == own.Size, FormattableString.Invariant($"The export has {check.Size} lines; the checkpoint says {own.Size} facts.")));
            findings.Add(check.Size == own.Size && check.Root.AsSpan().SequenceEqual(own.Root)
                ? new Finding(true, $"The tree over its lines has the root of the checkpoint, {Convert.ToHexStringLower(own.Root)}.")
                : new Finding(false, $"The tree over its lines has the root {Convert.ToHexStringLower(check.Root)}, the checkpoint {Convert.ToHexStringLower(own.Root)}."));
            findings.Add(check.Organisation is null || check.Organisation == own.Organisation
                ? new Finding(true, $"Lines and checkpoint are of the organisation {own.Organisation}.")
                : new Finding(false, $"The lines are of {check.Organisation}, the checkpoint is of {own.Organisation}."));
        }
        else
        {
            findings.Add(new Finding(null, "No sound checkpoint of this export is at hand: whether it is what was recorded cannot be told. Give --manifest or --checkpoint."));
        }

        foreach (var (from, note) in others) Before(from, note!, own, check, findings);
        Lines(check, own, findings);
        if (Pack is not null) findings.AddRange(Pack.Findings(PackDigest));
        return findings;
    }

    private static CheckpointNote? Signed(GivenCheckpoint given, IReadOnlyList<CheckpointKey> keys, List<Finding> findings)
    {
        var (verdict, note, keyId) = CheckpointSeal.Check(given.Jws, keys);
        findings.Add(verdict switch
        {
            SealVerdict.Holds => new Finding(true, FormattableString.Invariant(
                $"The checkpoint in {given.From} ({note!.Size} facts of {note.Organisation}, {note.MadeAt:yyyy-MM-dd HH:mm:ss} UTC) is signed by the key {keyId}.")),
            SealVerdict.KeyUnknown => new Finding(false, $"The checkpoint in {given.From} names the key {keyId}, which is none of those given."),
            SealVerdict.SignatureWrong => new Finding(false, $"The checkpoint in {given.From} does not bear the signature of the key {keyId}: it was altered."),
            _ => new Finding(false, $"The checkpoint in {given.From} cannot be read."),
        });
        return verdict == SealVerdict.Holds ? note : null;
    }

    private static void Same(ExportManifest manifest, long bytes, byte[] sha256, List<Finding> findings) =>
        findings.Add(bytes == manifest.Facts.Bytes && Convert.ToHexStringLower(sha256) == manifest.Facts.Sha256
            ? new Finding(true, FormattableString.Invariant($"The file has the {bytes} bytes and the SHA-256 of the manifest."))
            : new Finding(false, FormattableString.Invariant(
                $"The file has {bytes} bytes and the SHA-256 {Convert.ToHexStringLower(sha256)}; the manifest says {manifest.Facts.Bytes} and {manifest.Facts.Sha256}.")));

    // Whether the export begins with everything that an older checkpoint says was there.
    private static void Before(string from, CheckpointNote note, CheckpointNote? own, ExportCheck check, List<Finding> findings)
    {
        if (ReferenceEquals(note, own)) return;
        if (check.Organisation is { } organisation && organisation != note.Organisation)
            findings.Add(new Finding(false, $"The checkpoint in {from} is of {note.Organisation}, the export of {organisation}."));
        else if (note.Size > check.Size)
            findings.Add(new Finding(false, FormattableString.Invariant(
                $"The checkpoint in {from} says {note.Size} facts and the export has {check.Size} lines: it is older than the checkpoint, or facts are gone.")));
        else if (note.Size == 0 || check.Roots[note.Size].AsSpan().SequenceEqual(note.Root))
            findings.Add(new Finding(true, FormattableString.Invariant(
                $"The export goes on from the checkpoint in {from}: its first {note.Size} lines are what was signed then.")));
        else
            findings.Add(new Finding(false, FormattableString.Invariant(
                $"The export does not go on from the checkpoint in {from}: among its first {note.Size} lines something is not what was signed then. It is of another history.")));
    }

    private void Lines(ExportCheck check, CheckpointNote? own, List<Finding> findings)
    {
        var leaves = Leaves;
        if (leaves is not null && own is not null)
        {
            var edge = new MerkleFrontier();
            foreach (var leaf in leaves) edge.Add(leaf);
            var hold = edge.Size == own.Size && edge.Root.AsSpan().SequenceEqual(own.Root);
            findings.Add(new Finding(
                hold, hold ? "The leaf hashes have the root of the checkpoint." : "The leaf hashes do not have the root of the checkpoint, and are left aside."));
            if (!hold) leaves = null;
        }

        var wrong = check.Findings(own?.Size ?? Manifest?.Size, own is null ? null : leaves);
        findings.AddRange(wrong.Take(MostLines).Select(each => new Finding(false, each.Says)));
        if (wrong.Count > MostLines) findings.Add(new Finding(false, FormattableString.Invariant($"And {wrong.Count - MostLines} more.")));
        if (wrong.Count > 0) return;
        var sound = own is null || check.Root.AsSpan().SequenceEqual(own.Root);
        findings.Add(sound
            ? new Finding(own is null ? null : true, "No line is missing, added or out of its place.")
            : new Finding(false, "By their numbers no line is missing, added or out of its place: at least one was altered. Give --leaves to learn which."));
    }
}
