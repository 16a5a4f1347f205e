using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;
using FleetLight.Record.Ledger;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Ledger;

/// <summary>The ledger as somebody sees it who believes nothing but the keys.</summary>
public sealed class LedgerTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task A_fact_that_was_answered_for_is_in_the_next_checkpoint_and_can_be_proved()
    {
        Organisation own = await service.AddOrganisationAsync();
        Device device = await own.AddDeviceAsync("/devices/crew-1");
        await device.TellAsync(Some.SiteOpened(), Some.DuctLaid(), Some.Reading(9.31));

        CheckpointView checkpoint = await MakeAsync(own);

        Assert.Equal((own.Name, 3), (checkpoint.Organisation, checkpoint.Size));
        CheckpointNote note = await CheckAsync(own, checkpoint);
        InclusionView proof = await own.Office.ReadAsync<InclusionView>($"/v1/ledger/inclusion/{Uri.EscapeDataString($"{device.Source}#0003")}");
        Assert.Equal((2, $"{device.Source}#0003"), (proof.Index, proof.Fact));
        byte[] leaf = SHA256.HashData([0, .. Encoding.UTF8.GetBytes(proof.Line)]);
        Assert.Equal(Convert.ToHexStringLower(leaf), proof.LeafHash);
        Assert.True(MerkleProof.Includes(leaf, proof.Index, note.Size, note.Root, Bytes(proof.Path)));
        using JsonDocument line = JsonDocument.Parse(proof.Line);
        JsonElement sent = line.RootElement.GetProperty("event");
        Assert.Equal(9.31, sent.GetProperty("data").GetProperty("value").GetDouble());
        Assert.Equal(("fleetlight.reading.taken.v1", 3), (sent.GetProperty("type").GetString(), sent.GetProperty("runningnumber").GetInt32()));
        Assert.Equal(service.Clock.Now, line.RootElement.GetProperty("recorded").GetProperty("recordedAt").GetDateTimeOffset());
    }

    [Fact]
    public async Task A_ledger_goes_on_from_every_checkpoint_that_it_had()
    {
        Organisation own = await service.AddOrganisationAsync();
        Device device = await own.AddDeviceAsync();
        List<CheckpointView> made = [];
        foreach (int more in new[] { 1, 2, 5, 300, 7 })
        {
            await device.TellAsync([.. Enumerable.Range(0, more).Select(number => Some.Reading(number))]);
            made.Add(await MakeAsync(own));
        }

        Assert.Equal([1, 3, 8, 308, 315], made.Select(each => each.Size));
        // Nothing new: the same again.
        Assert.Equal(made[^1].Jws, (await MakeAsync(own)).Jws);
        foreach (CheckpointView older in made)
        {
            ConsistencyView proof = await own.Office.ReadAsync<ConsistencyView>($"/v1/ledger/consistency?first={older.Size}&second=315");
            Assert.True(MerkleProof.GoesOn(
                older.Size, Convert.FromHexString(older.Root), 315, Convert.FromHexString(made[^1].Root), Bytes(proof.Path)));
        }

        Page<CheckpointView> page = await own.Office.ReadAsync<Page<CheckpointView>>("/v1/ledger/checkpoints?limit=3");
        Page<CheckpointView> rest = await own.Office.ReadAsync<Page<CheckpointView>>($"/v1/ledger/checkpoints?limit=3&cursor={page.Next}");
        Assert.Equal([315, 308, 8, 3, 1], page.Items.Concat(rest.Items).Select(each => each.Size));
        Assert.Equal(made[^1].Jws, (await own.Office.ReadAsync<CheckpointView>("/v1/ledger/checkpoint")).Jws);
        // Any leaf of any of these sizes.
        InclusionView one = await own.Office.ReadAsync<InclusionView>($"/v1/ledger/inclusion/{Uri.EscapeDataString($"{device.Source}#0005")}?size=308");
        Assert.True(MerkleProof.Includes(Convert.FromHexString(one.LeafHash), 4, 308, Convert.FromHexString(made[3].Root), Bytes(one.Path)));
    }

    [Fact]
    public async Task What_was_altered_in_the_database_no_longer_has_its_hash()
    {
        Organisation own = await service.AddOrganisationAsync();
        Device device = await own.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened(), Some.Reading(9.31));
        CheckpointView checkpoint = await MakeAsync(own);
        await service.QueryAsync<long>(
            "update fleetlight.mt_events set data = jsonb_set(data, '{data,value}', '9.5') where tenant_id = $1 and type = 'fleetlight.reading.taken.v1' returning seq_id",
            own.Name);

        InclusionView proof = await own.Office.ReadAsync<InclusionView>($"/v1/ledger/inclusion/{Uri.EscapeDataString($"{device.Source}#0002")}");

        Assert.NotEqual(proof.LeafHash, Convert.ToHexStringLower(MerkleHash.Leaf(Encoding.UTF8.GetBytes(proof.Line))));
        Assert.True(MerkleProof.Includes(Convert.FromHexString(proof.LeafHash), 1, 2, Convert.FromHexString(checkpoint.Root), Bytes(proof.Path)));
    }

    [Fact]
    public async Task The_facts_of_a_site_have_a_digest_that_their_leaves_make_again()
    {
        Organisation own = await service.AddOrganisationAsync();
        Device device = await own.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened(), Some.DuctLaid(), Some.SiteOpened("site-2"), Some.CablePulled());
        await MakeAsync(own);
        await service.CaughtUpAsync();

        SiteLedgerView site = await own.Office.ReadAsync<SiteLedgerView>($"/v1/ledger/sites/{Some.Site}");
        Page<LeafView> first = await own.Office.ReadAsync<Page<LeafView>>($"/v1/ledger/sites/{Some.Site}/leaves?limit=2");
        Page<LeafView> second = await own.Office.ReadAsync<Page<LeafView>>($"/v1/ledger/sites/{Some.Site}/leaves?limit=2&cursor={first.Next}");

        Assert.Equal((3, 0), (site.Facts, site.Waiting));
        LeafView[] leaves = [.. first.Items, .. second.Items];
        Assert.Equal([0, 1, 3], leaves.Select(leaf => leaf.Index));
        Assert.Equal([$"{device.Source}#0001", $"{device.Source}#0002", $"{device.Source}#0004"], leaves.Select(leaf => leaf.Fact));
        Assert.Equal(site.Digest, Convert.ToHexStringLower(FactDigest.Of(leaves.Select(leaf => Convert.FromHexString(leaf.LeafHash)))));
        Assert.Equal(HttpStatusCode.NotFound, (await own.Office.GetAsync("/v1/ledger/sites/nowhere")).Status);
    }

    [Fact]
    public async Task What_cannot_be_answered_is_told()
    {
        Organisation own = await service.AddOrganisationAsync();
        Assert.Equal(HttpStatusCode.NotFound, (await own.Office.GetAsync("/v1/ledger/checkpoint")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await own.Office.PostAsync("/v1/ledger/checkpoint")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await own.Office.GetAsync("/v1/ledger/consistency")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await own.Office.GetAsync("/v1/export/facts")).Status);
        Assert.Empty((await own.Office.ReadAsync<Page<CheckpointView>>("/v1/ledger/checkpoints")).Items);
        Device device = await own.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened());
        await MakeAsync(own);

        foreach ((string path, string field) in new[]
                 {
                     ("/v1/ledger/consistency?first=2", "first"), ("/v1/ledger/consistency?second=9", "second"), ("/v1/ledger/consistency?first=-1", "first"),
                     ($"/v1/ledger/inclusion/{Uri.EscapeDataString($"{device.Source}#0001")}?size=9", "size"), ("/v1/export/facts?size=7", "size"),
                     ("/v1/ledger/checkpoints?limit=0", "limit"),
                 })
        {
            Answer answer = await own.Office.GetAsync(path);
            Assert.Equal((HttpStatusCode.BadRequest, field), (answer.Status, (string?)answer.Json["field"]));
        }

        Assert.Equal(HttpStatusCode.NotFound, (await own.Office.GetAsync("/v1/ledger/inclusion/nothing")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await own.Office.GetAsync("/v1/ledger/inclusion/urn%3Anobody%231")).Status);
    }

    private static async Task<CheckpointView> MakeAsync(Organisation own) =>
        (await own.Office.PostAsync("/v1/ledger/checkpoint")).Expect(HttpStatusCode.OK).As<CheckpointView>();

    private static async Task<CheckpointNote> CheckAsync(Organisation own, CheckpointView checkpoint)
    {
        using JsonDocument keys = JsonDocument.Parse((await own.Office.GetAsync("/v1/ledger/keys")).Text);
        (SealVerdict verdict, CheckpointNote? note, string? keyId) = CheckpointSeal.Check(checkpoint.Jws, CheckpointKey.ReadSet(keys.RootElement));
        Assert.Equal((SealVerdict.Holds, checkpoint.KeyId), (verdict, keyId));
        Assert.Equal((checkpoint.Organisation, checkpoint.Size, checkpoint.Root), (note!.Organisation, note.Size, Convert.ToHexStringLower(note.Root)));
        return note;
    }

    private static byte[][] Bytes(IEnumerable<string> path) => [.. path.Select(Convert.FromHexString)];
}
