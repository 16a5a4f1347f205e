using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Tests;

/// <summary>What the client says of proofs that hold and of such that do not.</summary>
public sealed class ProofTests : IDisposable
{
    private const string Fact = "/devices/amber#e2";

    // Roots of six and of eight leaves and the path between them, with which the reference implementation of certificate transparency (RFC 6962,
    // whose tree is that of RFC 9162) tests its tree, from memory.
    private const string SixRoot = "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef";
    private const string EightRoot = "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328";

    private static readonly string[] FromSixToEight =
    [
        "0ebc5d3437fbe2db158b9f126a1d118e308181031d0a949f8dededebc558ef6a", "ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0",
        "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
    ];

    private static readonly string[] Lines = [.. Enumerable.Range(0, 3).Select(index => LineOf(index))];
    private static readonly byte[][] Leaves = [.. Lines.Select(line => MerkleHash.Leaf(Encoding.UTF8.GetBytes(line)))];

    // Of three leaves, the first two are below one node (RFC 9162, 2.1.1).
    private static readonly string Root = Hex(MerkleHash.Node(MerkleHash.Node(Leaves[0], Leaves[1]), Leaves[2]));

    private readonly ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
    private readonly ECDsa other = ECDsa.Create(ECCurve.NamedCurves.nistP256);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private LedgerKeySet Believed => new() { Keys = [JwkOf(key)] };

    private InclusionView Sound => new()
    {
        Fact = Fact,
        Index = 1,
        Line = Lines[1],
        LeafHash = Hex(Leaves[1]),
        Path = [Hex(Leaves[0]), Hex(Leaves[2])],
        Checkpoint = Signed(3, Root),
    };

    public void Dispose()
    {
        key.Dispose();
        other.Dispose();
    }

    [Fact]
    public async Task A_fact_that_is_in_the_ledger_is_proved_by_the_newest_checkpoint_and_by_one_that_was_kept()
    {
        var service = Answering(Sound);
        var proved = await service.Client().Ledger.ProveAsync(Fact, Believed, cancel: Cancel);
        Assert.Equal((Fact, 1L, Lines[1], 3L, Root), (proved.Fact, proved.Index, proved.Line, proved.Checkpoint.Size, Hex(proved.Checkpoint.Root)));
        // What the answer says of checkpoints does not count where one was kept.
        await Answering(Sound with { Checkpoint = null! }).Client().Ledger.ProveAsync(Fact, Believed, Signed(3, Root), Cancel);
    }

    public static TheoryData<string, ProofFault> Spoiled => new()
    {
        { "a byte of the line", ProofFault.LineAltered },
        { "a byte of the line and its hash", ProofFault.NotIncluded },
        { "a hash of the path", ProofFault.NotIncluded },
        { "the path in another order", ProofFault.NotIncluded },
        { "a hash of the path left out", ProofFault.NotIncluded },
        { "a path that is none", ProofFault.Unreadable },
        { "no path", ProofFault.Unreadable },
        { "another root", ProofFault.NotIncluded },
        { "another size", ProofFault.NotIncluded },
        { "another index", ProofFault.AnotherPlace },
        { "another index in the line too", ProofFault.NotIncluded },
        { "another fact", ProofFault.AnotherFact },
        { "another organisation", ProofFault.OfAnother },
        { "a member twice", ProofFault.Unreadable },
        { "no line", ProofFault.Unreadable },
        { "another key", ProofFault.KeyUnknown },
        { "a root changed after signing", ProofFault.SignatureWrong },
        { "no checkpoint", ProofFault.Unreadable },
    };

    [Theory]
    [MemberData(nameof(Spoiled))]
    public async Task What_does_not_hold_of_an_inclusion_is_named(string what, ProofFault fault)
    {
        var altered = Lines[1].Replace("9.1", "9.2", StringComparison.Ordinal);
        var moved = LineOf(1, place: 2);
        var spoiled = what switch
        {
            "a byte of the line" => Sound with { Line = altered },
            "a byte of the line and its hash" => Sound with { Line = altered, LeafHash = HashOf(altered) },
            "a hash of the path" => Sound with { Path = [Hex(Leaves[0]), Hex(Leaves[1])] },
            "the path in another order" => Sound with { Path = [Hex(Leaves[2]), Hex(Leaves[0])] },
            "a hash of the path left out" => Sound with { Path = [Hex(Leaves[0])] },
            "a path that is none" => Sound with { Path = ["0a", Hex(Leaves[2])] },
            "no path" => Sound with { Path = null! },
            "another root" => Sound with { Checkpoint = Signed(3, SixRoot) },
            "another size" => Sound with { Checkpoint = Signed(5, Root) },
            "another index" => Sound with { Index = 2 },
            "another index in the line too" => Sound with { Index = 2, Line = moved, LeafHash = HashOf(moved) },
            "another fact" => Sound with { Index = 0, Line = Lines[0], LeafHash = Hex(Leaves[0]), Path = [Hex(Leaves[1]), Hex(Leaves[2])] },
            "another organisation" => Sound with { Checkpoint = Signed(3, Root, organisation: "birch") },
            "a member twice" => Sound with { Line = Lines[1].Replace("{\"event\"", "{\"index\":1,\"event\"", StringComparison.Ordinal) },
            "no line" => Sound with { Line = "[]" },
            "another key" => Sound with { Checkpoint = Signed(3, Root, with: other) },
            "a root changed after signing" => Sound with { Checkpoint = Sound.Checkpoint with { Jws = Swapped(Signed(3, Root).Jws, Signed(3, SixRoot).Jws) } },
            "no checkpoint" => Sound with { Checkpoint = null! },
            _ => throw new ArgumentOutOfRangeException(nameof(what)),
        };
        var failed = await Assert.ThrowsAsync<ProofException>(() => Answering(spoiled).Client().Ledger.ProveAsync(Fact, Believed, cancel: Cancel));
        Assert.Equal((fault, false), (failed.Fault, failed.IsPassing));
    }

    [Fact]
    public async Task A_fact_of_another_history_is_not_proved_by_a_checkpoint_that_was_kept()
    {
        var failed = await Assert.ThrowsAsync<ProofException>(
            () => Answering(Sound).Client().Ledger.ProveAsync(Fact, Believed, Signed(3, SixRoot), Cancel));
        Assert.Equal(ProofFault.NotIncluded, failed.Fault);
    }

    [Fact]
    public async Task A_ledger_that_goes_on_is_proved_by_the_path_of_the_reference()
    {
        var service = Answering(Growth(FromSixToEight));
        // What stands beside the signature does not count.
        var proved = await service.Client().Ledger.ProveGrowthAsync(Signed(6, SixRoot), Believed, Signed(8, EightRoot) with { Size = 9, Root = "" }, Cancel);
        Assert.Equal((8L, EightRoot), (proved.Size, proved.Root));
        Assert.Equal("GET /v1/ledger/consistency?first=6&second=8", Assert.Single(service.Requests).Line);
    }

    [Theory]
    [InlineData(6, SixRoot, 8, EightRoot, 1)]
    [InlineData(6, EightRoot, 8, EightRoot, null)]
    [InlineData(6, SixRoot, 8, SixRoot, null)]
    [InlineData(5, SixRoot, 8, EightRoot, null)]
    [InlineData(8, EightRoot, 6, SixRoot, null)]
    public async Task What_does_not_go_on_is_of_another_history(int first, string firstRoot, int second, string secondRoot, int? spoil)
    {
        string[] path = [.. FromSixToEight];
        if (spoil is { } at) path[at] = SixRoot;
        var failed = await Assert.ThrowsAsync<ProofException>(
            () => Answering(Growth(path)).Client().Ledger.ProveGrowthAsync(Signed(first, firstRoot), Believed, Signed(second, secondRoot), Cancel));
        Assert.Equal(ProofFault.OtherHistory, failed.Fault);
    }

    [Fact]
    public async Task A_checkpoint_of_another_organisation_or_key_proves_nothing()
    {
        var client = Answering(Growth(FromSixToEight)).Client();
        var ofAnother = await Assert.ThrowsAsync<ProofException>(
            () => client.Ledger.ProveGrowthAsync(Signed(6, SixRoot), Believed, Signed(8, EightRoot, organisation: "birch"), Cancel));
        var unknown = await Assert.ThrowsAsync<ProofException>(
            () => client.Ledger.ProveGrowthAsync(Signed(6, SixRoot), Believed, Signed(8, EightRoot, with: other), Cancel));
        Assert.Equal((ProofFault.OfAnother, ProofFault.KeyUnknown), (ofAnother.Fault, unknown.Fault));
    }

    private static string LineOf(int index, int? place = null) =>
        $$"""{"event":{"data":{"value":9.{{index}}},"id":"e{{index + 1}}","source":"/devices/amber"},"index":{{place ?? index}},"organisation":"amber"}""";

    private static ConsistencyView Growth(string[] path) => new() { First = 6, FirstRoot = SixRoot, Second = 8, SecondRoot = EightRoot, Path = path };

    private static FakeService Answering<T>(T answer) => new((_, _) => FakeService.Json(JsonSerializer.Serialize(answer, WireJson.Lenient)
        // An answer that lacks what was promised says so with a null; one that left it out could not be read at all.
        .Replace("\"leafHash\"", answer is InclusionView { Path: null } ? "\"path\":null,\"leafHash\"" : "\"leafHash\"", StringComparison.Ordinal)
        .Replace("\"fact\"", answer is InclusionView { Checkpoint: null } ? "\"checkpoint\":null,\"fact\"" : "\"fact\"", StringComparison.Ordinal)));

    // The payload of one, the signature of the other.
    private static string Swapped(string signature, string payload) => string.Join('.', signature.Split('.')[0], payload.Split('.')[1], signature.Split('.')[2]);

    private static string HashOf(string line) => Hex(MerkleHash.Leaf(Encoding.UTF8.GetBytes(line)));

    private static string Hex(byte[] bytes) => Convert.ToHexStringLower(bytes);

    private static CheckpointKey Half(ECDsa key)
    {
        var point = key.ExportParameters(false).Q;
        return new CheckpointKey(point.X!, point.Y!);
    }

    private static LedgerKey JwkOf(ECDsa key)
    {
        var half = Half(key);
        return new LedgerKey
        {
            Kty = "EC",
            Crv = "P-256",
            X = Base64Url.EncodeToString(half.X),
            Y = Base64Url.EncodeToString(half.Y),
            Kid = half.Id,
            Use = "sig",
            Alg = "ES256",
        };
    }

    private CheckpointView Signed(long size, string root, string organisation = "amber", ECDsa? with = null)
    {
        var (signing, madeAt) = (with ?? key, new DateTimeOffset(2026, 3, 6, 12, 35, 0, TimeSpan.Zero));
        return new CheckpointView
        {
            Organisation = organisation,
            Size = size,
            Root = root,
            MadeAt = madeAt,
            KeyId = Half(signing).Id,
            Jws = CheckpointSeal.Write(
                new CheckpointNote(organisation, size, Convert.FromHexString(root), madeAt), Half(signing).Id,
                bytes => signing.SignData(bytes, HashAlgorithmName.SHA256, DSASignatureFormat.IeeeP1363FixedFieldConcatenation)),
        };
    }
}
