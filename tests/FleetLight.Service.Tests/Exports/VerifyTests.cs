using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using FleetLight.Verify;
using Xunit;

namespace FleetLight.Service.Tests.Exports;

/// <summary>The checker that needs no service, on exports that a service gave, whole and spoilt.</summary>
public sealed class VerifyTests(VerifyTests.Exported exported) : IClassFixture<VerifyTests.Exported>
{
    [Fact]
    public async Task A_sound_export_holds_with_all_that_is_known_of_it()
    {
        string said = await RunAsync(VerifyCommand.Sound, exported.Facts, All());
        Assert.DoesNotContain("DOES NOT HOLD", said, StringComparison.Ordinal);
        Assert.Contains("goes on from the checkpoint", said, StringComparison.Ordinal);
        Assert.Contains("Nothing was found wrong.", said, StringComparison.Ordinal);
        string packed = exported.Write("packed.gz", Packed(File.ReadAllBytes(exported.Facts)));
        await RunAsync(VerifyCommand.Sound, packed, All());
        await RunAsync(VerifyCommand.Sound, exported.Facts, ["--checkpoint", exported.Newest, "--keys", exported.Keys]);
        string byItself = await RunAsync(VerifyCommand.Sound, exported.Facts, ["--manifest", exported.Manifest]);
        Assert.Contains("cannot tell", byItself, StringComparison.Ordinal);
        string alone = await RunAsync(VerifyCommand.Unsound, exported.Facts, []);
        Assert.Contains("No sound checkpoint of this export is at hand", alone, StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_byte_that_was_altered_is_found_and_its_line_named()
    {
        byte[] bytes = File.ReadAllBytes(exported.Facts);
        for (int at = 100; at < bytes.Length; at += 977)
        {
            if (bytes[at] == (byte)'\n') continue;
            byte[] changed = [.. bytes];
            changed[at] ^= 1;
            if (changed[at] == (byte)'\n') continue;
            int line = bytes.AsSpan(0, at).Count((byte)'\n') + 1;
            string said = await RunAsync(VerifyCommand.Unsound, exported.Write("altered.ndjson", changed), All());
            Assert.Contains($"ine {line} ", said, StringComparison.Ordinal);
            Assert.Contains("the checkpoint", said, StringComparison.Ordinal);
        }

        string other = exported.Write("altered.ndjson", Encoding.UTF8.GetBytes(exported.Text.Replace("9.312", "9.313", StringComparison.Ordinal)));
        Assert.Contains("Line 13 (fact 12) was altered", await RunAsync(VerifyCommand.Unsound, other, All()), StringComparison.Ordinal);
        string without = await RunAsync(VerifyCommand.Unsound, other, ["--manifest", exported.Manifest, "--keys", exported.Keys]);
        Assert.Contains("at least one was altered. Give --leaves", without, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lines_that_are_gone_added_swapped_or_cut_are_named()
    {
        string[] lines = exported.Lines;
        await SaysAsync([.. lines[..5], .. lines[6..]], "Fact 5 is missing before line 6.");
        await SaysAsync([.. lines[..5], .. lines[9..]], "Facts 5 to 8 are missing before line 6.");
        await SaysAsync([.. lines[..7], lines[3], .. lines[7..]], "Line 8 was added");
        await SaysAsync([.. lines[..7], lines[7].Replace("9.307", "1.5", StringComparison.Ordinal), .. lines[7..]], "Line 8 was added");
        string[] swapped = [.. lines];
        (swapped[2], swapped[8]) = (swapped[8], swapped[2]);
        await SaysAsync(swapped, "Line 3 (fact 8) stands in the wrong place: it belongs to line 9.");
        await SaysAsync(lines[..^1], FormattableString.Invariant($"Fact {lines.Length - 1} is missing"));
        string cut = exported.Write("cut.ndjson", Encoding.UTF8.GetBytes(exported.Text[..^20]));
        Assert.Contains("the file was cut off", await RunAsync(VerifyCommand.Unsound, cut, All()), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_wrong_key_and_a_checkpoint_of_another_history_are_told()
    {
        using ECDsa stranger = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        ECPoint point = stranger.ExportParameters(false).Q;
        CheckpointKey half = new(point.X!, point.Y!);
        (string x, string y) = (System.Buffers.Text.Base64Url.EncodeToString(half.X), System.Buffers.Text.Base64Url.EncodeToString(half.Y));
        string wrongKey = exported.Write("wrong-key.json", Encoding.UTF8.GetBytes(
            $$"""{"keys":[{"kty":"EC","crv":"P-256","x":"{{x}}","y":"{{y}}"}]}"""));
        string said = await RunAsync(VerifyCommand.Unsound, exported.Facts, ["--manifest", exported.Manifest, "--keys", wrongKey]);
        Assert.Contains("is none of those given", said, StringComparison.Ordinal);

        string other = await RunAsync(VerifyCommand.Unsound, exported.Facts, [.. All(), "--checkpoint", exported.OfAnotherHistory]);
        Assert.Contains("does not go on from the checkpoint", other, StringComparison.Ordinal);
        Assert.Contains("It is of another history.", other, StringComparison.Ordinal);
        string later = await RunAsync(VerifyCommand.Unsound, exported.Earlier, ["--checkpoint", exported.Newest, "--keys", exported.Keys]);
        Assert.Contains("The export has 10 lines; the checkpoint says 30 facts.", later, StringComparison.Ordinal);
        string shorter = await RunAsync(VerifyCommand.Unsound, exported.Earlier, ["--manifest", exported.Manifest, "--keys", exported.Keys, "--checkpoint", exported.Newest]);
        Assert.Contains("it is older than the checkpoint, or facts are gone", shorter, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_cannot_be_read_ends_with_one_plain_word()
    {
        foreach (string[] wrong in new string[][]
                 {
                     ["nowhere.ndjson"], [exported.Facts, "--manifest", exported.Facts], [exported.Facts, "--keys", exported.Newest], [exported.Facts, "--leaves", exported.Keys],
                     [exported.Facts, "--checkpoint", exported.Keys],
                     [exported.Facts, "--pack", exported.Keys], [exported.Facts, "--pack", exported.Leaves], [exported.Facts, "--pack", exported.At("pack.pdf")],
                     [exported.Facts, "--pack", "nowhere.txt"], [exported.Facts, "--pack-digest", exported.PackDigest],
                     [exported.Facts, "--pack", exported.At("pack.txt"), "--pack-digest", "12"],
                 })
        {
            using StringWriter output = new(), errors = new();
            int code = await VerifyCommand.Make(output, errors).Parse(wrong).InvokeAsync(cancellationToken: TestContext.Current.CancellationToken);
            Assert.Equal(VerifyCommand.Unusable, code);
            Assert.StartsWith("error: ", errors.ToString(), StringComparison.Ordinal);
            Assert.Equal("", output.ToString());
        }

        string json = await RunAsync(VerifyCommand.Sound, exported.Facts, [.. All(), "--json"]);
        using JsonDocument read = JsonDocument.Parse(json);
        Assert.True(read.RootElement.GetProperty("sound").GetBoolean());
    }

    [Theory]
    [InlineData("pack.txt")]
    [InlineData("pack.json")]
    [InlineData("pack.html")]
    public async Task A_handover_pack_is_checked_against_the_export(string pack)
    {
        string said = await RunAsync(VerifyCommand.Sound, exported.Facts, [.. All(), "--pack", exported.At(pack), "--pack-digest", exported.PackDigest]);
        Assert.Contains("has the digest that is printed in the pack", said, StringComparison.Ordinal);
        Assert.Contains("All 30 facts on which the pack rests are in the export, unaltered.", said, StringComparison.Ordinal);
        await RunAsync(VerifyCommand.Sound, exported.Facts, [.. All(), "--pack", exported.At(pack), "--pack-digest", exported.PackDigest[..16]]);
        string without = await RunAsync(VerifyCommand.Sound, exported.Facts, [.. All(), "--pack", exported.At(pack)]);
        Assert.Contains($"has the SHA-256 {exported.PackDigest}. Compare it", without, StringComparison.Ordinal);

        string altered = exported.Write("altered.ndjson", Encoding.UTF8.GetBytes(exported.Text.Replace("9.312", "9.313", StringComparison.Ordinal)));
        string told = await RunAsync(VerifyCommand.Unsound, altered, [.. All(), "--pack", exported.At(pack)]);
        Assert.Matches(@"The fact \S+ \(line 13\) is not what the pack rests on", told);
        string earlier = await RunAsync(VerifyCommand.Unsound, exported.Earlier, ["--checkpoint", exported.Older, "--keys", exported.Keys, "--pack", exported.At(pack)]);
        Assert.Equal(20, earlier.Split("which is not in the export.").Length - 1);
        string other = await RunAsync(VerifyCommand.Unsound, exported.Facts, [.. All(), "--pack", exported.At(pack), "--pack-digest", new string('0', 64)]);
        Assert.Contains("the pack has 0000", other, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_pack_that_was_altered_itself_shows()
    {
        string text = File.ReadAllText(exported.At("pack.txt"));
        string one = text[..64], another = new('a', 64);
        string list = exported.Write("list.txt", Encoding.UTF8.GetBytes(text.Replace(one, another, StringComparison.Ordinal)));
        Assert.Contains("is not what the pack rests on", await RunAsync(VerifyCommand.Unsound, exported.Facts, [.. All(), "--pack", list]), StringComparison.Ordinal);
        foreach (string pack in (string[])["pack.json", "pack.html"])
        {
            string spoilt = exported.Write(pack.Replace("pack", "spoilt", StringComparison.Ordinal),
                Encoding.UTF8.GetBytes(File.ReadAllText(exported.At(pack)).Replace(one, another, StringComparison.Ordinal)));
            string said = await RunAsync(VerifyCommand.Unsound, exported.Facts, [.. All(), "--pack", spoilt]);
            Assert.Contains($"the pack says {exported.PackDigest}", said, StringComparison.Ordinal);
        }
    }

    private string[] All() =>
        ["--manifest", exported.Manifest, "--keys", exported.Keys, "--leaves", exported.Leaves, "--checkpoint", exported.Older];

    private async Task SaysAsync(string[] lines, string expected)
    {
        string path = exported.Write("spoilt.ndjson", Encoding.UTF8.GetBytes(string.Concat(lines.Select(line => line + "\n"))));
        Assert.Contains(expected, await RunAsync(VerifyCommand.Unsound, path, All()), StringComparison.Ordinal);
        // Without the leaf hashes its numbers and the root are enough to tell.
        await RunAsync(VerifyCommand.Unsound, path, ["--manifest", exported.Manifest, "--keys", exported.Keys]);
    }

    private static async Task<string> RunAsync(int expected, string export, string[] arguments)
    {
        using StringWriter output = new(), errors = new();
        int code = await VerifyCommand.Make(output, errors).Parse([export, .. arguments]).InvokeAsync(cancellationToken: TestContext.Current.CancellationToken);
        Assert.True(code == expected, $"{code} instead of {expected}: {errors}{output}");
        return output.ToString();
    }

    private static byte[] Packed(byte[] bytes)
    {
        using MemoryStream into = new();
        using (GZipStream gzip = new(into, CompressionLevel.Fastest, leaveOpen: true)) gzip.Write(bytes);
        return into.ToArray();
    }

    /// <summary>A service with thirty facts, and what it gave out of them, as files.</summary>
    public sealed class Exported : FleetService
    {
        private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("fleetlight-export-");

        public string Facts => At("facts.ndjson");

        public string Earlier => At("earlier.ndjson");

        public string Manifest => At("manifest.json");

        public string Keys => At("keys.json");

        public string Leaves => At("leaves.txt");

        public string Older => At("older.json");

        public string Newest => At("newest.json");

        public string OfAnotherHistory => At("other.json");

        public string PackDigest { get; private set; } = "";

        public string Text => File.ReadAllText(Facts);

        public string[] Lines => Text.Split('\n', StringSplitOptions.RemoveEmptyEntries);

        public string Write(string name, byte[] bytes)
        {
            File.WriteAllBytes(At(name), bytes);
            return At(name);
        }

        public override async ValueTask InitializeAsync()
        {
            await base.InitializeAsync();
            Organisation own = await AddOrganisationAsync();
            Device device = await own.AddDeviceAsync();
            await device.TellAsync([.. Enumerable.Range(0, 10).Select(number => Some.Reading(9.3 + (number * 0.001)))]);
            await TakeAsync(own, null, "older.json");
            await TakeAsync(own, "/v1/export/facts", "earlier.ndjson");
            await device.TellAsync([.. Enumerable.Range(10, 20).Select(number => Some.Reading(9.3 + (number * 0.001)))]);
            CheckpointView newest = await TakeAsync(own, null, "newest.json");
            await TakeAsync(own, "/v1/export/facts", "facts.ndjson");
            await TakeAsync(own, "/v1/export/manifest", "manifest.json");
            await TakeAsync(own, "/v1/export/leaf-hashes", "leaves.txt");
            await TakeAsync(own, "/v1/ledger/keys", "keys.json");
            await CaughtUpAsync();
            foreach ((string format, string name) in ((string, string)[])[("facts", "pack.txt"), ("json", "pack.json"), ("html", "pack.html"), ("pdf", "pack.pdf")])
                await TakeAsync(own, $"/v1/sites/{Some.Site}/handover?format={format}", name);
            PackDigest = Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(At("pack.txt"))));
            // The same organisation, signed by the same key, with facts that were never there.
            ECDsa key = ECDsa.Create(new ECParameters
            {
                Curve = ECCurve.NamedCurves.nistP256,
                D = Convert.FromHexString((await File.ReadAllTextAsync(Path.Combine(Path.GetDirectoryName(FirstKeyFile)!, "ledger-key"))).Trim()),
            });
            CheckpointNote other = new(own.Name, 20, MerkleHash.Leaf([7]), newest.MadeAt);
            string jws = CheckpointSeal.Write(
                other, newest.KeyId, bytes => key.SignData(bytes, HashAlgorithmName.SHA256, DSASignatureFormat.IeeeP1363FixedFieldConcatenation));
            key.Dispose();
            Write("other.json", Encoding.ASCII.GetBytes(jws));
        }

        public override async ValueTask DisposeAsync()
        {
            await base.DisposeAsync();
            folder.Delete(recursive: true);
            GC.SuppressFinalize(this);
        }

        private async Task<CheckpointView> TakeAsync(Organisation own, string? path, string name)
        {
            Answer answer = path is null ? await own.Office.PostAsync("/v1/ledger/checkpoint") : await own.Office.GetAsync(path);
            Write(name, answer.Expect(System.Net.HttpStatusCode.OK).Body);
            return path is null ? JsonSerializer.Deserialize<CheckpointView>(answer.Body, WireJson.Lenient)! : null!;
        }

        public string At(string name) => Path.Combine(folder.FullName, name);
    }
}
