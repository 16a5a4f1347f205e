using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Proofs;

namespace FleetLight.Record.Tests.Ledger;

public sealed class CheckpointTests : IDisposable
{
    private static readonly CheckpointNote Note = new("amber", 12, MerkleHash.Leaf([1]), new DateTimeOffset(2026, 3, 6, 12, 35, 0, 16, TimeSpan.Zero));
    private readonly ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);

    private CheckpointKey Public => Half(key);

    [Fact]
    public void What_is_signed_is_canonical_and_reads_back()
    {
        byte[] payload = Note.Payload();
        Assert.Equal(
            """{"kind":"fleetlight-ledger-checkpoint-v1","madeAt":"2026-03-06T12:35:00.016Z","organisation":"amber","root":""" + '"'
            + Convert.ToHexStringLower(Note.Root) + "\",\"size\":12}",
            Encoding.UTF8.GetString(payload));
        CheckpointNote? read = CheckpointNote.Read(payload);
        Assert.Equal(payload, read!.Payload());
        Assert.Null(CheckpointNote.Read([.. payload, (byte)' ']));
        Assert.Null(CheckpointNote.Read("{}"u8));
        Assert.Null(CheckpointNote.Read("nothing"u8));
    }

    [Fact]
    public void A_signature_holds_for_its_key_and_what_it_signed_only()
    {
        string sealed_ = Seal();
        Assert.Equal(SealVerdict.Holds, CheckpointSeal.Check(sealed_, [Public]).Verdict);
        using ECDsa other = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        Assert.Equal(SealVerdict.KeyUnknown, CheckpointSeal.Check(sealed_, [Half(other)]).Verdict);
        Assert.Equal(SealVerdict.Unreadable, CheckpointSeal.Check("a.b", [Public]).Verdict);
        Assert.Equal(SealVerdict.Unreadable, CheckpointSeal.Check("!.!.!", [Public]).Verdict);
        string[] parts = sealed_.Split('.');
        string larger = Base64Url.EncodeToString((Note with { Size = 13 }).Payload());
        Assert.Equal(SealVerdict.SignatureWrong, CheckpointSeal.Check($"{parts[0]}.{larger}.{parts[2]}", [Public]).Verdict);
        Assert.Equal(SealVerdict.SignatureWrong, CheckpointSeal.Check($"{parts[0]}.{parts[1]}.{Base64Url.EncodeToString(new byte[64])}", [Public]).Verdict);
        string none = Base64Url.EncodeToString(Encoding.ASCII.GetBytes($$"""{"alg":"none","kid":"{{Public.Id}}"}"""));
        Assert.Equal(SealVerdict.Unreadable, CheckpointSeal.Check($"{none}.{parts[1]}.", [Public]).Verdict);
    }

    [Fact]
    public void No_altered_letter_of_it_holds()
    {
        string sealed_ = Seal();
        for (int at = 0; at < sealed_.Length; at++)
        {
            if (sealed_[at] == '.') continue;
            string changed = sealed_[..at] + (sealed_[at] == 'A' ? 'B' : 'A') + sealed_[(at + 1)..];
            SealVerdict verdict = CheckpointSeal.Check(changed, [Public]).Verdict;
            Assert.NotEqual(SealVerdict.Holds, verdict);
        }
    }

    [Fact]
    public void The_name_of_a_key_is_its_thumbprint()
    {
        // Made by hand as RFC 7638, 3 says: members in order, no white space.
        ECPoint point = key.ExportParameters(false).Q;
        string text = $"{{\"crv\":\"P-256\",\"kty\":\"EC\",\"x\":\"{Base64Url.EncodeToString(point.X)}\",\"y\":\"{Base64Url.EncodeToString(point.Y)}\"}}";
        Assert.Equal(Base64Url.EncodeToString(SHA256.HashData(Encoding.UTF8.GetBytes(text))), Public.Id);
        using JsonDocument set = JsonDocument.Parse($"{{\"keys\":[{text},{{\"kty\":\"RSA\"}},3]}}");
        Assert.Equal(Public.Id, Assert.Single(CheckpointKey.ReadSet(set.RootElement)).Id);
        Assert.False(new CheckpointKey(new byte[32], new byte[32]).HasSealed([1], new byte[64]));
    }

    public void Dispose() => key.Dispose();

    private string Seal() => CheckpointSeal.Write(
        Note, Public.Id, bytes => key.SignData(bytes, HashAlgorithmName.SHA256, DSASignatureFormat.IeeeP1363FixedFieldConcatenation));

    private static CheckpointKey Half(ECDsa key)
    {
        ECPoint point = key.ExportParameters(false).Q;
        return new CheckpointKey(point.X!, point.Y!);
    }
}
