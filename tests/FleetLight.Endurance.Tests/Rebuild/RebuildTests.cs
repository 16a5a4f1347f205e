using System.Net;
using FleetLight.Contracts.Views;
using FleetLight.Endurance.Tests.Hosting;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Postgres;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Endurance.Tests.Rebuild;

/// <summary><c>FleetLight.Service rebuild</c> beside the running service, as deploy/runbook/rebuild.md says.</summary>
public sealed class RebuildTests : IAsyncLifetime
{
    private TestDatabase database = null!;
    private ServiceProcess service = null!;

    public async ValueTask InitializeAsync()
    {
        database = await TestDatabase.CreateAsync();
        service = await ServiceProcess.StartAsync(database.ConnectionString);
    }

    public async ValueTask DisposeAsync()
    {
        await service.DisposeAsync();
        await database.DisposeAsync();
    }

    [Fact]
    public async Task States_that_were_spoilt_are_right_again_and_nobody_is_told_anything()
    {
        Organisation organisation = await Organisation.CreateAsync(service.Host);
        Device device = await organisation.AddDeviceAsync();
        await FillAsync(device, 1, 40);
        await service.CaughtUpAsync();
        List<string> before = await States.OfAsync(organisation.Office);
        await Sql.ReadAsync<int>(database.ConnectionString, "delete from fleetlight.fl_circuit where id = 'circuit-3' returning 1");
        await Sql.ReadAsync<int>(database.ConnectionString, "update fleetlight.fl_state set body = replace(body, 'Garden 7', 'Spoilt') where kind = 'site' returning 1");
        Assert.NotEqual(before, await States.OfAsync(organisation.Office));

        await RebuildAsync();

        // A state that was polled before is not remembered beyond the change-over.
        await Eventually.IsSoAsync(async () => (await organisation.Office.GetAsync("/v1/circuits/circuit-3")).Status == HttpStatusCode.OK, "the new states to show");
        Assert.Equal(before, await States.OfAsync(organisation.Office));
        Assert.Equal([1L], await Sql.ReadAsync<long>(database.ConnectionString, "select count(*) from pg_namespace where nspname like 'fleetlight%'"));

        // A second one begins where the first ended, and the service starts on what it left.
        await RebuildAsync();
        await service.ReplaceAsync(ServiceProcess.Sound);
        Assert.Equal(before, await States.OfAsync(organisation.Office));
    }

    [Fact]
    public async Task Reads_and_facts_go_on_while_it_runs_and_every_alert_is_raised_once()
    {
        Organisation organisation = await Organisation.CreateAsync(service.Host);
        Device device = await organisation.AddDeviceAsync();
        await FillAsync(device, 1, 60);
        await service.CaughtUpAsync();
        int gardens = 60, reads = 0, failed = 0;
        using CancellationTokenSource done = new();
        Task writing = Task.Run(async () =>
        {
            while (!done.IsCancellationRequested)
            {
                gardens++;
                await FillAsync(device, gardens, gardens);
                // As many as a slow machine projects as well, or the end never comes: what is asked is not how fast it is.
                await Task.Delay(100);
            }
        }, TestContext.Current.CancellationToken);
        Task reading = Task.Run(async () =>
        {
            while (!done.IsCancellationRequested)
            {
                CircuitView circuit = await organisation.Office.ReadAsync<CircuitView>($"/v1/circuits/circuit-{reads % 60 + 1}");
                reads++;
                if (circuit.LastReadings.Count != 12) failed++;
            }
        }, TestContext.Current.CancellationToken);

        for (int round = 0; round < 3; round++) await RebuildAsync();
        await done.CancelAsync();
        await Task.WhenAll(writing, reading);
        await service.CaughtUpAsync();

        Assert.InRange(reads, 100, int.MaxValue);
        Assert.Equal(0, failed);
        Assert.Equal([(long)gardens], await Sql.ReadAsync<long>(
            database.ConnectionString,
            "select count(*) from fleetlight.mt_events where type = 'fleetlight.alert.raised.v1' and data -> 'finding' ->> 'rule' = 'ground-box-not-gel-filled'"));
        Assert.Equal(gardens, (await States.AllAsync(organisation.Office, "/v1/circuits?limit=1000")).Count);
        // The states at the end are those that a service has that never was rebuilt.
        List<string> after = await States.OfAsync(organisation.Office);
        await RebuildAsync();
        await Eventually.IsSoAsync(async () => (await States.OfAsync(organisation.Office)).SequenceEqual(after), "a last rebuild to be the identity");
        List<string> facts = await Sql.FactsAsync(database.ConnectionString);
        int found = facts.Distinct().Count();
        int receipted = (await device.ReceiptAsync()).CompleteThrough;
        new FaultRow("rebuild beside the running service", 3, device.Last, receipted, found, device.Last - found, facts.Count - found).Keep("rebuild");
        Assert.Equal(device.Last, facts.Count);
    }

    [Fact]
    public async Task Only_one_runs_at_a_time_and_one_that_is_refused_changes_nothing()
    {
        await using Npgsql.NpgsqlConnection other = new(database.ConnectionString);
        await other.OpenAsync(TestContext.Current.CancellationToken);
        await using (Npgsql.NpgsqlCommand hold = new("select pg_advisory_lock(x'666c72656275696c'::bigint)", other))
            await hold.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);

        (int exitCode, string output) = await ServiceProcess.RunAsync(database.ConnectionString, "rebuild");

        Assert.Equal(1, exitCode);
        Assert.Contains("Another rebuild of this database is under way.", output, StringComparison.Ordinal);
    }

    private async Task RebuildAsync()
    {
        (int exitCode, string output) = await ServiceProcess.RunAsync(database.ConnectionString, "rebuild");
        Assert.True(exitCode == 0, output);
        TestContext.Current.TestOutputHelper?.WriteLine(output);
    }

    private static async Task FillAsync(Device device, int from, int through)
    {
        for (int garden = from; garden <= through; garden++)
        {
            (string site, string circuit) = ($"site-{garden}", $"circuit-{garden}");
            await device.TellAsync(
            [
                Facts.SiteOpened(site, $"Garden {garden}"), Facts.BoxSealed($"box-{garden}", gelFilled: false, siteId: site), CircuitFacts.Designed(circuit, siteId: site),
                .. Enumerable.Range(1, 12).Select(visit => CircuitFacts.Reading(9.2 + 0.001 * visit, circuitId: circuit, siteId: site)),
            ]);
        }
    }
}
