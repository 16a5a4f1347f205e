using System.IO.Compression;
using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;
using FleetLight.Record.Csv;
using FleetLight.Record.Ledger;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Service.Tests.Photos;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Exports;

/// <summary>Everything to take along, whole and in pieces.</summary>
public sealed class ExportTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task All_facts_are_there_as_they_were_sent_in_the_order_of_the_ledger()
    {
        (Organisation own, Device device, SentEvent[] sent) = await RecordAsync(640);
        CheckpointView checkpoint = await MakeAsync(own);

        Answer answer = await own.Office.GetAsync("/v1/export/facts");

        Assert.Equal("application/x-ndjson", answer.MediaType);
        Assert.Equal($"sha-256=:{Convert.ToBase64String(SHA256.HashData(answer.Body))}:", Header(answer, "Repr-Digest"));
        string[] lines = answer.Text.Split('\n');
        Assert.Equal("", lines[^1]);
        Assert.Equal(sent.Length, lines.Length - 1);
        MerkleFrontier edge = new();
        for (int index = 0; index < sent.Length; index++)
        {
            edge.Add(SHA256.HashData([0, .. Encoding.UTF8.GetBytes(lines[index])]));
            using JsonDocument line = JsonDocument.Parse(lines[index]);
            using JsonDocument original = JsonDocument.Parse(sent[index].Text);
            Assert.Equal(index, line.RootElement.GetProperty("index").GetInt32());
            JsonElement kept = line.RootElement.GetProperty("event");
            foreach (string name in (string[])["specversion", "id", "source", "type", "runningnumber"])
                Assert.Equal(original.RootElement.GetProperty(name).GetRawText(), kept.GetProperty(name).GetRawText());
            Assert.Equal(original.RootElement.GetProperty("time").GetDateTimeOffset(), kept.GetProperty("time").GetDateTimeOffset());
            // Whatever way a number was written, it is the same number; nothing was left out, nothing put in.
            Assert.True(JsonElement.DeepEquals(Canonical(original.RootElement.GetProperty("data")), Canonical(kept.GetProperty("data"))), lines[index]);
        }

        Assert.Equal(checkpoint.Root, Convert.ToHexStringLower(edge.Root));

        // What was recorded since changes nothing of it.
        await device.TellAsync(Some.Reading(1));
        await MakeAsync(own);
        Answer again = await own.Office.GetAsync($"/v1/export/facts?size={checkpoint.Size}");
        Assert.Equal(answer.Body, again.Body);
        Assert.Equal(Header(answer, "ETag"), Header(again, "ETag"));
        Assert.Equal(sent.Length + 2, (await own.Office.GetAsync("/v1/export/facts")).Text.Split('\n').Length);
    }

    [Fact]
    public async Task A_fetch_that_broke_off_goes_on_where_it_was()
    {
        (Organisation own, _, _) = await RecordAsync(30);
        CheckpointView checkpoint = await MakeAsync(own);
        string path = $"/v1/export/facts?size={checkpoint.Size}";
        Answer whole = await own.Office.GetAsync(path);
        string tag = Header(whole, "ETag");
        Assert.StartsWith("\"", tag, StringComparison.Ordinal);

        List<byte> pieces = [];
        while (pieces.Count < whole.Body.Length)
        {
            using HttpResponseMessage piece = await own.Office.StartAsync(
                HttpMethod.Get, path, null, ("Range", $"bytes={pieces.Count}-{pieces.Count + 1700}"), ("If-Range", tag));
            Assert.Equal(HttpStatusCode.PartialContent, piece.StatusCode);
            Assert.Equal(
                $"bytes {pieces.Count}-{Math.Min(pieces.Count + 1700, whole.Body.Length - 1)}/{whole.Body.Length}", $"{piece.Content.Headers.ContentRange}");
            pieces.AddRange(await piece.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
        }

        Assert.Equal(whole.Body, pieces);
        Assert.Equal(whole.Body[^9..], (await own.Office.GetAsync(path, ("Range", "bytes=-9"))).Body);
        Assert.Equal(whole.Body[5..], (await own.Office.GetAsync(path, ("Range", "bytes=5-"))).Body);
        Assert.Equal(HttpStatusCode.NotModified, (await own.Office.GetAsync(path, ("If-None-Match", tag))).Status);
        // Of another file than the one that was begun, the whole is answered.
        Answer other = await own.Office.GetAsync(path, ("Range", "bytes=5-"), ("If-Range", "\"other\""));
        Assert.Equal((HttpStatusCode.OK, whole.Body.Length), (other.Status, other.Body.Length));
        using HttpResponseMessage beyond = await own.Office.StartAsync(HttpMethod.Get, path, null, ("Range", $"bytes={whole.Body.Length}-"));
        Assert.Equal((HttpStatusCode.RequestedRangeNotSatisfiable, $"bytes */{whole.Body.Length}"), (beyond.StatusCode, $"{beyond.Content.Headers.ContentRange}"));
        Answer hashes = await own.Office.GetAsync("/v1/export/leaf-hashes");
        Assert.Equal(hashes.Body[70..200], (await own.Office.GetAsync("/v1/export/leaf-hashes", ("Range", "bytes=70-199"))).Body);
        using HttpResponseMessage head = await own.Office.StartAsync(HttpMethod.Head, path);
        Assert.Equal(whole.Body.Length, head.Content.Headers.ContentLength);
    }

    [Fact]
    public async Task The_manifest_says_what_there_is_and_the_digests_agree()
    {
        (Organisation own, Device device, _) = await RecordAsync(12);
        Picture picture = Picture.Of("to take along");
        await device.TellAsync(picture.Taken());
        (await picture.SendAsync(device.Api)).Expect(HttpStatusCode.Created);
        await MakeAsync(own);

        ExportManifest manifest = await own.Office.ReadAsync<ExportManifest>("/v1/export/manifest");
        Answer facts = await own.Office.GetAsync(manifest.Facts.Path);

        Assert.Equal((own.Name, 13), (manifest.Organisation, manifest.Size));
        Assert.Equal((facts.Body.Length, Convert.ToHexStringLower(SHA256.HashData(facts.Body))), (manifest.Facts.Bytes, manifest.Facts.Sha256));
        Assert.Equal(manifest.Facts.ReprDigest, Header(facts, "Repr-Digest"));
        Assert.Equal(picture.Sha256, Assert.Single(manifest.Attachments).Sha256);
        Assert.Equal(manifest.Checkpoint.Jws, (await own.Office.ReadAsync<CheckpointView>("/v1/ledger/checkpoint")).Jws);
        Assert.Equal(manifest.Facts, (await own.Office.ReadAsync<ExportManifest>($"/v1/export/manifest?size={manifest.Size}")).Facts);
        string[] hashes = (await own.Office.GetAsync("/v1/export/leaf-hashes")).Text.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(facts.Text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => Convert.ToHexStringLower(MerkleHash.Leaf(Encoding.UTF8.GetBytes(line)))), hashes);
    }

    [Fact]
    public async Task Whoever_takes_it_compressed_gets_the_same()
    {
        (Organisation own, _, _) = await RecordAsync(40);
        await MakeAsync(own);
        Answer plain = await own.Office.GetAsync("/v1/export/facts");
        Answer packed = await own.Office.GetAsync("/v1/export/facts", ("Accept-Encoding", "gzip"));
        Assert.NotEqual(Header(plain, "ETag"), Header(packed, "ETag"));
        await using GZipStream unpacked = new(new MemoryStream(packed.Body), CompressionMode.Decompress);
        using MemoryStream bytes = new();
        await unpacked.CopyToAsync(bytes, TestContext.Current.CancellationToken);
        Assert.Equal(plain.Body, bytes.ToArray());
    }

    [Fact]
    public async Task Tables_are_read_back_by_any_program()
    {
        (Organisation own, _, _) = await RecordAsync(30);
        await service.CaughtUpAsync();
        foreach ((string table, int rows, string column, string value) in new[]
                 {
                     ("ducts", 1, "Length (m)", "24"), ("cables", 1, "Cable", Some.Cable), ("boxes", 1, "Gel filled", "no"), ("circuits", 1, "Circuit", Some.Circuit),
                     ("readings", 25, "Quantity", "volts-dc"), ("alerts", -1, "Standing", "raised"),
                 })
        {
            Answer answer = await own.Office.GetAsync($"/v1/export/tables/{table}");
            Assert.Equal((HttpStatusCode.OK, "text/csv"), (answer.Status, answer.MediaType));
            Assert.Equal($"sha-256=:{Convert.ToBase64String(SHA256.HashData(answer.Body))}:", Header(answer, "Repr-Digest"));
            Assert.Equal(Encoding.UTF8.GetPreamble(), answer.Body[..3]);
            string[] lines = Encoding.UTF8.GetString(answer.Body[3..]).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
            if (rows >= 0) Assert.Equal(rows, lines.Length - 1);
            else Assert.True(lines.Length > 1, $"{table} is empty");
            int at = Array.IndexOf(Cells(lines[0]), column);
            Assert.True(at >= 0, $"{table} has no column {column}");
            Assert.Contains(lines.Skip(1), line => Cells(line)[at] == value);
            Assert.All(lines, line => Assert.Equal(Cells(lines[0]).Length, Cells(line).Length));
            string tag = Header(answer, "ETag");
            Assert.Equal(HttpStatusCode.NotModified, (await own.Office.GetAsync($"/v1/export/tables/{table}", ("If-None-Match", tag))).Status);
            Assert.Equal(answer.Body[10..], (await own.Office.GetAsync($"/v1/export/tables/{table}", ("Range", "bytes=10-"), ("If-Range", tag))).Body);
        }

        Answer few = await own.Office.GetAsync($"/v1/export/tables/readings?happenedTo={Uri.EscapeDataString(Device.Began.AddMinutes(10).ToString("O"))}");
        Assert.Equal(4, few.Text.Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Length - 1);
        Assert.Equal(HttpStatusCode.NotFound, (await own.Office.GetAsync("/v1/export/tables/nothing")).Status);
        Assert.Equal(HttpStatusCode.BadRequest, (await own.Office.GetAsync("/v1/export/tables/readings?happenedTo=x")).Status);
    }

    [Fact]
    public async Task What_was_altered_is_exported_as_it_is_and_shows()
    {
        (Organisation own, _, _) = await RecordAsync(8);
        CheckpointView checkpoint = await MakeAsync(own);
        await service.QueryAsync<long>(
            "update fleetlight.mt_events set data = jsonb_set(data, '{data,value}', '99.25') where tenant_id = $1 and type = 'fleetlight.reading.taken.v1' returning seq_id",
            own.Name);

        Answer facts = await own.Office.GetAsync("/v1/export/facts");

        MerkleFrontier edge = new();
        foreach (string line in facts.Text.Split('\n', StringSplitOptions.RemoveEmptyEntries)) edge.Add(MerkleHash.Leaf(Encoding.UTF8.GetBytes(line)));
        Assert.Equal(checkpoint.Size, edge.Size);
        Assert.NotEqual(checkpoint.Root, Convert.ToHexStringLower(edge.Root));
        Assert.Contains(service.Log.All, line => line.Text.Contains(own.Name, StringComparison.Ordinal) && line.Text.Contains("is not what it was", StringComparison.Ordinal));
        Assert.Empty(await service.QueryAsync<long>("select size from fleetlight.fl_ledger_export where tenant_id = $1", own.Name));
    }

    // A duct, a cable, an open box, a circuit, and readings.
    private async Task<(Organisation Own, Device Device, SentEvent[] Sent)> RecordAsync(int facts)
    {
        Organisation own = await service.AddOrganisationAsync();
        Device device = await own.AddDeviceAsync();
        SentEvent[] sent = device.Record(
        [
            Some.SiteOpened(name: "=Gärten \"Süd\", 雨"), Some.DuctLaid(), Some.CablePulled(), Some.CircuitDesigned(), Some.BoxSealed(gelFilled: false),
            .. Enumerable.Range(5, Math.Max(0, facts - 5)).Select(number => Some.Reading(9.3 + (number * 0.001))),
        ]);
        sent = sent[..Math.Min(facts, sent.Length)];
        await device.SendAsync(sent);
        return (own, device, sent);
    }

    private static JsonElement Canonical(JsonElement value)
    {
        using JsonDocument document = JsonDocument.Parse(CanonicalJson.Of(value));
        return document.RootElement.Clone();
    }

    private static string[] Cells(string line) => [.. CsvText.Read(line).Rows[0].Cells.Select(cell => cell.Text)];

    private static string Header(Answer answer, string name) => answer.Headers.TryGetValues(name, out IEnumerable<string>? values) ? string.Join(",", values) : "";

    private static async Task<CheckpointView> MakeAsync(Organisation own) =>
        (await own.Office.PostAsync("/v1/ledger/checkpoint")).Expect(HttpStatusCode.OK).As<CheckpointView>();
}
