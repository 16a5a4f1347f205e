using System.Net;
using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;
using FleetLight.Service.Ledger;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FleetLight.Service.Tests.Ledger;

/// <summary>What comes to a ledger in the life of an installation: older nodes, gaps, several nodes, another key, a copy of its facts.</summary>
public sealed class LedgerLifeTests
{
    [Fact]
    public async Task Facts_from_before_the_ledger_come_into_it_in_their_order()
    {
        await using FleetService service = await StartAsync();
        Organisation own = await service.AddOrganisationAsync();
        Device device = await own.AddDeviceAsync();
        await device.TellAsync([.. Enumerable.Range(0, 30).Select(number => Some.Reading(number))]);
        CheckpointView before = await MakeAsync(own);
        // As a database looks that an older version wrote.
        foreach (string table in (string[])["leaf", "node", "head", "checkpoint", "progress", "gap", "export"])
        {
            string name = $"fleetlight.fl_ledger_{table}";
            await service.QueryAsync<object>($"alter table {name} disable trigger user; delete from {name}; alter table {name} enable trigger user");
        }


        CheckpointView after = await MakeAsync(own);

        Assert.Equal((before.Size, before.Root), (after.Size, after.Root));
    }

    [Fact]
    public async Task A_fact_that_commits_behind_the_ledger_comes_into_it_later()
    {
        await using FleetService service = await StartAsync();
        Organisation own = await service.AddOrganisationAsync();
        Device device = await own.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened(), Some.DuctLaid());
        await MakeAsync(own);
        // A place in the order was given out, and the mark went past it before what it was given for was kept.
        long place = (await service.QueryAsync<long>("select nextval('fleetlight.mt_events_sequence')"))[0];
        await device.TellAsync(Some.CablePulled());
        await service.CaughtUpAsync();
        Assert.Equal(3, (await MakeAsync(own)).Size);
        Assert.Single(await service.QueryAsync<Guid>(
            """
            insert into fleetlight.mt_events (seq_id, id, stream_id, version, data, type, timestamp, tenant_id, mt_dotnet_type, is_archived)
            select $1, gen_random_uuid(), stream_id, 1000, data, type, timestamp, tenant_id, mt_dotnet_type, is_archived
            from fleetlight.mt_events where tenant_id = $2 and type = 'fleetlight.duct.laid.v1' returning id
            """, place, own.Name));
        LedgerAppender appender = service.Running.Services.GetRequiredService<LedgerAppender>();
        await appender.TurnAsync(waits: true, gaps: true, TestContext.Current.CancellationToken);
        Assert.Equal(4, (await MakeAsync(own)).Size);
        // Looking again finds nothing more.
        Assert.Equal(0, (await appender.TurnAsync(waits: true, gaps: true, TestContext.Current.CancellationToken)).Appended);
    }

    [Fact]
    public async Task Two_nodes_write_one_ledger_and_sign_with_one_key()
    {
        await using FleetService service = await StartAsync();
        Organisation own = await service.AddOrganisationAsync();
        Device device = await own.AddDeviceAsync();
        await using RunningService second = await service.StartSecondAsync();
        Organisation there = own.At(second.Api);
        List<CheckpointView> made = [];
        for (int turn = 0; turn < 5; turn++)
        {
            await device.TellAsync(Some.Reading(turn), Some.Reading(turn + 0.5));
            CheckpointView[] both = await Task.WhenAll(MakeAsync(own), MakeAsync(there));
            Assert.Single(both.Select(each => each.Jws).Distinct());
            made.AddRange(both);
        }

        Assert.Equal([2, 4, 6, 8, 10], made.Select(each => each.Size).Distinct());
        Assert.Single((await own.Office.ReadAsync<LedgerKeySet>("/v1/ledger/keys")).Keys);
    }

    [Fact]
    public async Task Another_key_signs_what_comes_and_the_first_stays_known()
    {
        Rekeyed service = new();
        await service.InitializeAsync();
        await using FleetService disposing = service;
        Organisation own = await service.AddOrganisationAsync();
        Device device = await own.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened());
        CheckpointView first = await MakeAsync(own);
        service.Key = new string('7', 64);
        await service.RestartAsync();
        own = own.At(service.Anybody);
        device = new Device(own.Office.With(device.Api.Key), device.Source);
        await device.SendAsync(SentEvent.Of(device.Source, "later", 2, Device.Began, Some.DuctLaid()));

        CheckpointView second = await MakeAsync(own);

        Assert.NotEqual(first.KeyId, second.KeyId);
        LedgerKeySet keys = await own.Office.ReadAsync<LedgerKeySet>("/v1/ledger/keys");
        Assert.Equal(new[] { first.KeyId, second.KeyId }.Order(), keys.Keys.Select(key => key.Kid).Order());
        Assert.All(keys.Keys, key => Assert.Equal(
            key.Kid, new CheckpointKey(System.Buffers.Text.Base64Url.DecodeFromChars(key.X), System.Buffers.Text.Base64Url.DecodeFromChars(key.Y)).Id));
    }

    [Fact]
    public async Task A_node_without_the_key_makes_none_of_its_own_and_says_so()
    {
        await using FleetService service = await StartAsync();
        Organisation own = await service.AddOrganisationAsync();
        await (await own.AddDeviceAsync()).TellAsync(Some.SiteOpened());
        string signed = (await MakeAsync(own)).Jws;
        File.Delete(Path.Combine(Path.GetDirectoryName(service.FirstKeyFile)!, LedgerKeys.FileName));
        await service.RestartAsync();
        own = own.At(service.Anybody);
        await (await own.AddDeviceAsync("urn:device:z")).TellAsync(Some.SiteOpened());

        Assert.Equal(signed, (await MakeAsync(own)).Jws);
        Assert.Contains(service.Log.All, line => line.Text.Contains("Ledger__SigningKey", StringComparison.Ordinal));
        Assert.Single((await own.Office.ReadAsync<LedgerKeySet>("/v1/ledger/keys")).Keys);
    }

    [Fact]
    public async Task The_worker_keeps_up_by_itself_and_makes_a_checkpoint_when_one_is_due()
    {
        Busy service = new();
        await service.InitializeAsync();
        await using FleetService disposing = service;
        Organisation own = await service.AddOrganisationAsync();
        await (await own.AddDeviceAsync()).TellAsync(Some.SiteOpened(), Some.DuctLaid());

        Answer answer = await Eventually.ReadAsync(
            () => own.Office.GetAsync("/v1/ledger/checkpoint"), answer => answer.Status == HttpStatusCode.OK, "a checkpoint");

        Assert.Equal(2, answer.As<CheckpointView>().Size);
    }

    private static async Task<FleetService> StartAsync()
    {
        FleetService service = new();
        await service.InitializeAsync();
        return service;
    }

    private static async Task<CheckpointView> MakeAsync(Organisation own) =>
        (await own.Office.PostAsync("/v1/ledger/checkpoint")).Expect(HttpStatusCode.OK).As<CheckpointView>();

    private sealed class Rekeyed : FleetService
    {
        public string? Key { get; set; }

        protected override IEnumerable<KeyValuePair<string, string?>> Settings => Key is null ? [] : [new("Ledger:SigningKey", Key)];
    }

    private sealed class Busy : FleetService
    {
        protected override IEnumerable<KeyValuePair<string, string?>> Settings => [new("Ledger:LookSeconds", "0.1")];
    }
}
