using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using FleetLight.Contracts.Wire;
using FleetLight.Endurance.Tests.Hosting;
using FleetLight.Endurance.Tests.Upgrade;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Endurance.Tests.Restore;

/// <summary>
/// The drill of deploy/runbook/restore.md: a database is backed up while the service runs, is lost, and is restored. It has a
/// PostgreSQL of its own, by deploy/private-postgres, because the client programs have to fit the server.
/// </summary>
public sealed partial class RestoreTests : IAsyncLifetime
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("fleetlight-restore-");
    private string connection = "";

    private string Server => Path.Combine(folder.FullName, "postgres");

    public async ValueTask InitializeAsync()
    {
        // The server's own user passes through.
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(folder.FullName, (UnixFileMode)Convert.ToInt32("755", 8));
        await Script.RunAsync("deploy/private-postgres", null, "start", Server);
        connection = await Script.RunAsync("deploy/private-postgres", null, "connection", Server);
    }

    public async ValueTask DisposeAsync()
    {
        await Script.TryAsync("deploy/private-postgres", null, "stop", Server);
        folder.Delete(recursive: true);
    }

    [Fact]
    public async Task What_is_restored_is_what_was_backed_up_and_devices_send_what_came_since()
    {
        string file;
        List<string> then, before, receipts;
        string cursor;
        string[] keys;
        SentEvent[] since;
        await using (ServiceProcess service = await ServiceProcess.StartAsync(connection))
        {
            (ApiClient office, Device crew, Device van, _) = await SmallLoad.HandInAsync(service);
            keys = [office.Key!, crew.Api.Key!, van.Api.Key!];
            then = await States.OfAsync(office);
            receipts = await ReceiptsAsync(crew, van);
            file = await Script.RunAsync("deploy/backup", connection, Path.Combine(folder.FullName, "kept"));

            since =
            [
                .. van.Record([.. Enumerable.Range(1, 60).Select(number => Facts.BoxSealed($"late-box-{number}", gelFilled: number % 7 > 0, siteId: "site-2"))]),
                van.Record(CircuitFacts.Reading(4.4, circuitId: "circuit-2", siteId: "site-2")),
            ];
            Assert.Equal(since.Length, (await van.SendAsync(since)).Recorded);
            await service.CaughtUpAsync();
            before = await WithoutTimesAsync(office);
            cursor = (string)(await office.GetAsync("/v1/changes?after=now")).Json["next"]!;
        }

        await Sql.ReadAsync<int>(InDatabase("postgres"), "drop database fleetlight with (force)");
        string restored = await Script.RunAsync("deploy/restore", InDatabase("postgres"), file, "fleetlight_restored");
        Assert.Contains("Database=fleetlight_restored", restored, StringComparison.Ordinal);

        await using ServiceProcess again = await ServiceProcess.StartAsync(restored);
        ApiClient reader = again.Anybody.With(keys[0]);
        Device oldCrew = new(again.Anybody.With(keys[1]), "/devices/crew-1"), oldVan = new(again.Anybody.With(keys[2]), "urn:fleetlight:van-7");
        Assert.Equal(then, await States.OfAsync(reader));
        Assert.Equal(receipts, await ReceiptsAsync(oldCrew, oldVan));

        // The device compares the receipt with what it had receipts for, and sends what is not in hand any more.
        Receipt receipt = await oldVan.ReceiptAsync();
        SentEvent[] missing = [.. since.Where(each => !IsInHand(receipt, each.RunningNumber))];
        Assert.Equal(since.Length, missing.Length);
        await oldVan.SendAsync(missing);
        await again.CaughtUpAsync();
        Assert.Equal(before, await WithoutTimesAsync(reader));

        // Whoever read the feed to its end before the loss misses nothing of what came back.
        List<JsonNode> changes = await States.AllAsync(reader, $"/v1/changes?after={cursor}&limit=1000");
        Assert.Equal(60, changes.Where(change => ((string)change["id"]!).StartsWith("late-box-", StringComparison.Ordinal)).DistinctBy(change => (string)change["id"]!).Count());
        List<string> facts = await Sql.FactsAsync(restored);
        string[] wanted = [.. since.Select(each => $"{SmallLoad.Name} urn:fleetlight:van-7#{each.Id}")];
        FaultRow row = new(
            "database lost, restored from the back-up before", 1, since.Length, since.Length, facts.Intersect(wanted).Count(),
            wanted.Except(facts).Count(), facts.Count - facts.Distinct().Count());
        row.Keep("restore");
        Assert.Equal((since.Length, 0, 0), ((int)row.Found, (int)row.Lost, (int)row.Doubled));
    }

    [Fact]
    public async Task A_file_that_is_not_whole_is_not_restored_and_a_database_that_is_there_is_not_overwritten()
    {
        await using (ServiceProcess service = await ServiceProcess.StartAsync(connection))
            await (await (await Organisation.CreateAsync(service.Host)).AddDeviceAsync()).TellAsync(Facts.SiteOpened());
        string file = await Script.RunAsync("deploy/backup", connection, Path.Combine(folder.FullName, "kept"));

        (int overwriting, _, string why) = await Script.TryAsync("deploy/restore", connection, file, "fleetlight");
        Assert.NotEqual(0, overwriting);
        Assert.Contains("already exists", why, StringComparison.Ordinal);
        Assert.Single(await Sql.FactsAsync(connection));

        await using (FileStream cut = new(file, FileMode.Open)) cut.SetLength(cut.Length - 100);
        (int spoilt, _, why) = await Script.TryAsync("deploy/restore", connection, file, "fleetlight_spoilt");
        Assert.NotEqual(0, spoilt);
        Assert.Contains("its sum differs", why, StringComparison.Ordinal);
        Assert.Empty(await Sql.ReadAsync<string>(connection, "select datname::text from pg_database where datname like 'fleetlight_spoilt%' or datname like 'fleetlight_proof%'"));
    }

    private static bool IsInHand(Receipt receipt, int number) => number <= receipt.CompleteThrough
        || (number <= receipt.Highest && !receipt.Missing.Any(range => number >= range.From && number <= range.Through));

    private static async Task<List<string>> ReceiptsAsync(params Device[] devices) =>
        [.. await Task.WhenAll(devices.Select(async device => (await device.Api.GetAsync("/v1/devices/self/receipts")).Text))];

    private static async Task<List<string>> WithoutTimesAsync(ApiClient office) =>
        [.. (await States.OfAsync(office, withHistory: false)).Select(line => RecordedAt().Replace(line, ""))];

    private string InDatabase(string name) => new Npgsql.NpgsqlConnectionStringBuilder(connection) { Database = name, Pooling = false }.ConnectionString;

    [GeneratedRegex("\"recordedAt\":\"[^\"]*\"")]
    private static partial Regex RecordedAt();
}
