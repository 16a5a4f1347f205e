using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Wire;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Postgres;
using FleetLight.Testing.Service;
using Npgsql;
using Xunit;

namespace FleetLight.Deploy.Tests.Running;

/// <summary>deploy/move-organisation, run on two databases with nodes of the service before and after.</summary>
public sealed class MoveTests : IAsyncLifetime
{
    private static readonly byte[] Png = [0x89, .. "PNG\r\n\u001a\n"u8, .. "moved"u8];
    private static readonly string Digest = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(Png));

    private static readonly string[] Told = ["facts"];

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("fleetlight-move-");
    private readonly Catcher catcher = new();
    private TestDatabase from = null!, to = null!;

    public async ValueTask InitializeAsync()
    {
        (from, to) = (await TestDatabase.CreateAsync(), await TestDatabase.CreateAsync());
        await catcher.StartAsync();
        string passwords = Path.Combine(folder.FullName, "passwords");
        await File.WriteAllTextAsync(passwords, $"*:*:*:*:{new NpgsqlConnectionStringBuilder(from.ConnectionString).Password}\n");
        new FileInfo(passwords).UnixFileMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
    }

    public async ValueTask DisposeAsync()
    {
        await catcher.DisposeAsync();
        await from.DisposeAsync();
        await to.DisposeAsync();
        folder.Delete(recursive: true);
    }

    [Fact]
    public async Task What_an_organisation_has_is_the_same_at_its_new_database_and_nothing_is_told_twice()
    {
        await using Node first = await StartAsync(from, "a");
        (Organisation moving, Organisation staying) = (await AddAsync(first, "moving"), await AddAsync(first, "staying"));
        (Device device, Device other) = (await moving.AddDeviceAsync("urn:device:moving"), await staying.AddDeviceAsync("urn:device:staying"));
        await moving.Office.PostAsync("/v1/webhooks", new { url = catcher.Address + "/told" });
        SentEvent known = device.Record(CircuitFacts.Designed());
        await other.TellAsync(Facts.SiteOpened(), Facts.BoxSealed());
        await device.SendAsync(known, device.Record(Facts.SiteOpened()), device.Record(Facts.BoxSealed(gelFilled: false)), device.Record(CircuitFacts.Reading(9.8)));
        await device.PostAsync(device.Record(Facts.SiteOpened()).ChangeData(data => data.Remove("name")));
        await device.SendAsync(device.Record(Facts.PhotoTaken(sha256: Digest, sizeBytes: Png.Length)));
        (await device.Api.PutAsync($"/v1/attachments/{Digest}", Png, "image/png")).Expect(HttpStatusCode.Created);
        (await moving.Office.PostAsync("/v1/visits", new { day = "2030-05-06", siteId = Facts.Site, note = "Ring first." })).Expect(HttpStatusCode.Created);
        await first.CaughtUpAsync();
        await Eventually.IsSoAsync(async () => await WaitingAsync() == 0 && catcher.Paths.Any(), "every alert to be told");
        (await moving.Office.PostAsync("/v1/ledger/checkpoint")).Expect(HttpStatusCode.OK);
        string[] before = await ShownAsync(moving);
        int told = catcher.Paths.Count();
        // The second database has an organisation of its own, so that places differ.
        await using (Node second = await StartAsync(to, "b"))
        {
            await (await (await AddAsync(second, "resident")).AddDeviceAsync()).TellAsync(Facts.SiteOpened(), Facts.BoxSealed(gelFilled: false));
            await second.CaughtUpAsync();
            Assert.Contains("stop its nodes", (await MoveAsync("copy")).Errors, StringComparison.Ordinal);
        }

        Ended moved = await MoveAsync("copy");

        Assert.True(moved.Code == 0, moved.Errors);
        Assert.Equal(HttpStatusCode.Unauthorized, (await device.PostAsync(known)).Status);
        await using Node after = await StartAsync(to, "b");
        await after.CaughtUpAsync();
        Organisation there = moving.At(after.Anybody);
        Assert.Equal(before, await ShownAsync(there));
        await TakesPartAsync(there, after, device, known);
        Assert.Equal(told, catcher.Paths.Count());

        Ended removed = await MoveAsync("remove");
        Assert.True(removed.Code == 0, removed.Errors);
        Assert.Equal("0", await LeftAsync());
        Assert.Equal(HttpStatusCode.OK, (await staying.Office.GetAsync($"/v1/sites/{Facts.Site}")).Status);
        Assert.Equal(1, (await other.TellAsync(Facts.DuctLaid())).Recorded);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Webhooks_and_subscriptions_go_on_where_they_were_and_sign_with_the_secrets_that_they_had(bool hasOtherMaster)
    {
        const string webhooked = "/webhook", subscribed = "/subscription";
        await using Node first = await StartAsync(from, "a");
        Organisation moving = await AddAsync(first, "moving");
        Device device = await moving.AddDeviceAsync("urn:device:moving");
        string webhook = (string)(await moving.Office.PostAsync("/v1/webhooks", new { url = catcher.Address + webhooked })).Expect(HttpStatusCode.Created).Json["secret"]!;
        JsonNode made = (await moving.Office.PostAsync("/v1/subscriptions", new { url = catcher.Address + subscribed, filter = new { tell = Told } }))
            .Expect(HttpStatusCode.Created).Json;
        string subscription = (string)made["secret"]!;
        await device.TellAsync(Facts.SiteOpened(), Facts.BoxSealed(gelFilled: false), Facts.DuctLaid());
        await Eventually.IsSoAsync(() => catcher.IdsAt(subscribed).Length == 3 && catcher.IdsAt(webhooked).Length > 0, "all to be told");
        await first.CaughtUpAsync();
        await Eventually.IsSoAsync(async () => await WaitingAsync() == 0, "every alert to be told");
        int alerts = catcher.IdsAt(webhooked).Length;
        await using (Node second = await StartAsync(to, "b"))
        {
            // Its places differ.
            await (await (await AddAsync(second, "resident")).AddDeviceAsync()).TellAsync(Facts.SiteOpened(), Facts.DuctLaid(), Facts.BoxSealed());
            await second.CaughtUpAsync();
        }

        Ended moved = await MoveAsync("copy");
        Assert.True(moved.Code == 0, moved.Errors);
        Ended removed = await MoveAsync("remove");
        Assert.True(removed.Code == 0, removed.Errors);
        await using Node after = await Node.StartAsync(Path.Combine(folder.FullName, "b"), new Dictionary<string, string>
        {
            ["ConnectionStrings__FleetLight"] = to.ConnectionString,
            ["Webhooks__MasterSecret"] = hasOtherMaster ? "YW5vdGhlciBtYXN0ZXIgc2VjcmV0IG9mIHRoZSB0ZXN0cw==" : Node.MasterSecret,
            ["Webhooks__OtherMasterSecrets__0"] = hasOtherMaster ? Node.MasterSecret : "",
        });
        await after.CaughtUpAsync();
        Organisation there = moving.At(after.Anybody);
        Assert.Equal((string)made["id"]!, (string)(await there.Office.GetAsync("/v1/subscriptions")).Expect(HttpStatusCode.OK).Json[0]!["id"]!);
        Device same = new(after.Anybody.With(device.Api.Key), device.Source);
        await same.SendAsync(SentEvent.Of(device.Source, "later", device.Last + 1, Device.Began.AddDays(1), Facts.BoxSealed("box-later", gelFilled: false)));

        await Eventually.IsSoAsync(() => catcher.IdsAt(subscribed).Length > 3 && catcher.IdsAt(webhooked).Length > alerts, "what is new to be told");
        Assert.True(catcher.AreSigned(subscribed, 0, subscription));
        Assert.True(catcher.AreSigned(webhooked, 0, webhook));
        Assert.Equal(4, catcher.IdsAt(subscribed).Length);
        Assert.Equal(catcher.IdsAt(webhooked).Length, catcher.IdsAt(webhooked).Distinct().Count());
        Assert.True(catcher.Holds(subscribed, "box-later"));
    }

    // The device goes on with its own key and numbers, and a fact that it sent before is known.
    private static async Task TakesPartAsync(Organisation there, Node node, Device device, SentEvent known)
    {
        Device same = new(node.Anybody.With(device.Api.Key), device.Source);
        BatchReceipt receipt = await same.SendAsync(known, SentEvent.Of(device.Source, "later", device.Last + 1, Device.Began.AddDays(1), CircuitFacts.Reading(9.7)));
        Assert.Equal((1, 1, device.Last + 1), (receipt.Duplicates, receipt.Recorded, receipt.Receipt.CompleteThrough));
        await node.CaughtUpAsync();
        // A node shows a change as soon as it has followed the feed, which is a moment after the projection.
        await Eventually.IsSoAsync(
            async () => (await there.Office.GetAsync($"/v1/circuits/{Facts.Circuit}")).Expect(HttpStatusCode.OK).Text
                .Contains($"{device.Source}#later", StringComparison.Ordinal),
            "the reading to show");
    }

    private static async Task<string[]> ShownAsync(Organisation organisation)
    {
        List<string> shown = [];
        foreach (string path in (string[])[
            $"/v1/circuits/{Facts.Circuit}", $"/v1/sites/{Facts.Site}", $"/v1/sites/{Facts.Site}/as-built", "/v1/alerts?standing=any", "/v1/refused", "/v1/webhooks",
            "/v1/keys", "/v1/photos", $"/v1/attachments/{Digest}", "/v1/visits",
            // Signed at the first database, and as good at the second: the same lines, and the key is known there.
            "/v1/ledger/checkpoint", "/v1/ledger/checkpoints", "/v1/export/facts", "/v1/export/leaf-hashes"])
            shown.Add((await organisation.Office.GetAsync(path)).Expect(HttpStatusCode.OK).Text);
        // Cursors differ, the things do not.
        JsonNode changes = (await organisation.Office.GetAsync("/v1/changes")).Expect(HttpStatusCode.OK).Json;
        shown.AddRange(changes["items"]!.AsArray().Select(change => $"{change!["kind"]} {change["id"]}"));
        return [.. shown];
    }

    private static async Task<Organisation> AddAsync(Node node, string name) =>
        await Organisation.CreateAsync(node.Anybody.With(await node.FirstKeyAsync()), name);

    private Task<Node> StartAsync(TestDatabase database, string name) => Node.StartAsync(
        Path.Combine(folder.FullName, name), new Dictionary<string, string> { ["ConnectionStrings__FleetLight"] = database.ConnectionString });

    private Task<Ended> MoveAsync(string verb) => Tool.RunAsync(
        TimeSpan.FromMinutes(1), Repository.At("deploy/move-organisation"), [verb, Libpq(from), Libpq(to), "moving"], null,
        ("PGPASSFILE", Path.Combine(folder.FullName, "passwords")));

    private static string Libpq(TestDatabase database)
    {
        NpgsqlConnectionStringBuilder parts = new(database.ConnectionString);
        return $"host={parts.Host} port={parts.Port} dbname={parts.Database} user={parts.Username}";
    }

    private async Task<long> WaitingAsync() => long.Parse(
        await AskAsync("select count(*)::text from fleetlight.mt_doc_delivery where data ->> 'state' = 'waiting'"), System.Globalization.CultureInfo.InvariantCulture);

    private Task<string> LeftAsync() => AskAsync(
        """
        select ((select count(*) from fleetlight.mt_events where tenant_id = 'moving') + (select count(*) from fleetlight.mt_streams where tenant_id = 'moving')
            + (select count(*) from fleetlight.fl_circuit where tenant_id = 'moving') + (select count(*) from fleetlight.mt_doc_delivery where tenant_id = 'moving')
            + (select count(*) from fleetlight.fl_ledger_leaf where tenant_id = 'moving') + (select count(*) from fleetlight.fl_subscription where tenant_id = 'moving')
            + (select count(*) from fleetlight.fl_attachment where tenant_id = 'moving') + (select count(*) from fleetlight.fl_visit where tenant_id = 'moving')
            + (select count(*) from fleetlight.mt_doc_keyrecord where data ->> 'organisation' = 'moving'))::text
        """);

    private async Task<string> AskAsync(string sql)
    {
        await using NpgsqlConnection connection = new(from.ConnectionString);
        await connection.OpenAsync();
        await using NpgsqlCommand command = new(sql, connection);
        return (string)(await command.ExecuteScalarAsync())!;
    }
}
