using System.Diagnostics;
using System.Net;
using FleetLight.Contracts.Wire;
using FleetLight.Faults.Tests.Load;
using FleetLight.Faults.Tests.Network;
using FleetLight.Faults.Tests.Nodes;
using FleetLight.Testing.Service;
using Npgsql;

namespace FleetLight.Faults.Tests;

/// <summary>
/// The database is killed, full of others, read-only, slow or silent. The service says so with a 503 that names a time, or
/// goes on; it never hangs; and when the trouble is over it goes on by itself, the projection too.
/// </summary>
[Collection(nameof(OwnPostgres))]
public sealed class DatabaseFaultTests(OwnPostgres postgres)
{
    // What a device waits for an answer, whatever the database does.
    private static readonly TimeSpan LongestAnswer = TimeSpan.FromSeconds(20);

    // What reads, and changes in the office, wait: 11 s, and what two busy processors add.
    private static readonly TimeSpan LongestRead = TimeSpan.FromSeconds(14);

    [Fact]
    public async Task The_database_server_is_killed()
    {
        const int times = 5;
        await using Scene scene = await Scene.OpenAsync(postgres.Node);
        for (int kill = 0; kill < times; kill++)
        {
            await scene.Load.TakenAsync(2);
            await postgres.Node.KillAsync();
            await Rest.ForAsync(300 * kill);
            await postgres.Node.StartAsync();
        }

        await scene.RecoversAsync("database killed under load", times);
        await States.SameAsUndisturbedAsync(scene.Load, postgres.Node);
    }

    [Fact]
    public async Task Others_hold_every_connection_of_the_server()
    {
        await using Scene scene = await Scene.OpenAsync(postgres.Node);
        List<NpgsqlConnection> held = [];
        long until = Stopwatch.GetTimestamp() + 4 * Stopwatch.Frequency;
        while (Stopwatch.GetTimestamp() < until)
        {
            NpgsqlConnection each = new(scene.Database + ";Pooling=false;Application Name=holder");
            try
            {
                await each.OpenAsync(TestContext.Current.CancellationToken);
                held.Add(each);
            }
            catch (NpgsqlException)
            {
                // None is left: end those of the service, so that the next one is ours.
                await each.DisposeAsync();
                await Scene.EndConnectionsOfServiceAsync(held[0]);
            }
        }

        Assert.InRange(held.Count, 150, 200);
        Assert.Contains(scene.Load.Devices, device => device.SentAway > 0);
        foreach (NpgsqlConnection each in held) await each.DisposeAsync();
        await scene.RecoversAsync("connections held by others", 1);
    }

    [Fact]
    public async Task The_database_is_read_only()
    {
        await using Scene scene = await Scene.OpenAsync(postgres.Node);
        await postgres.Node.SetAsync("default_transaction_read_only", "on");
        await Eventually.IsSoAsync(() => scene.Load.Devices.All(device => device.SentAway > 1), "every device to be told to come back");
        await postgres.Node.SetAsync("default_transaction_read_only", "off");
        await scene.RecoversAsync("database read-only", 1);
    }

    [Fact]
    public async Task The_database_is_slow()
    {
        await using FaultProxy wire = new(postgres.Node.Port) { Delay = TimeSpan.FromMilliseconds(120) };
        await using Scene scene = await Scene.OpenAsync(postgres.Node, wire);
        wire.Fault = Fault.Delay;
        await scene.Load.TakenAsync(4);
        wire.Fault = Fault.None;
        await scene.RecoversAsync("database slow", 1);
    }

    [Fact]
    public async Task The_database_falls_silent()
    {
        // More callers wait than there are connections: one that did not come back would be missed.
        const int connections = 20;
        await using FaultProxy wire = new(postgres.Node.Port);
        await using Scene scene = await Scene.OpenAsync(postgres.Node, wire, connections);
        wire.Fault = Fault.Silence;
        ApiClient office = scene.Load.Organisation.Office;
        IEnumerable<Task> asked =
        [
            .. Enumerable.Range(0, 2 * connections).Select(_ => GivenUpAsync(() => office.GetAsync("/v1/sites"))),
            GivenUpAsync(() => office.PostAsync("/v1/enrolments", new { name = "van 3 tablet", role = "device" })),
        ];
        await Task.WhenAll(asked);
        await Eventually.IsSoAsync(() => scene.Load.Devices.All(device => device.SentAway > 0), "every device to be told to come back");
        // What was swallowed never comes: those connections are no use any more, as after a switch that forgot them.
        wire.Fault = Fault.None;
        await scene.RecoversAsync("database silent", 1);
    }

    private static async Task GivenUpAsync(Func<Task<Answer>> ask)
    {
        long began = Stopwatch.GetTimestamp();
        Answer answer = await ask();
        TimeSpan waited = Stopwatch.GetElapsedTime(began);
        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.Status);
        Assert.Equal(TimeSpan.FromSeconds(2), answer.Headers.RetryAfter?.Delta);
        Assert.Equal(ProblemTypes.Unavailable, (string?)answer.Json["type"]);
        Assert.Contains("no-store", answer.Headers.CacheControl?.ToString(), StringComparison.Ordinal);
        Assert.True(waited < LongestRead, $"An answer took {waited}.");
    }

    /// <summary>A service at work on a database that is about to have trouble.</summary>
    private sealed class Scene : IAsyncDisposable
    {
        private Scene(string database, ServiceNode node, FleetLoad load) => (Database, Node, Load) = (database, node, load);

        public string Database { get; }

        public ServiceNode Node { get; }

        public FleetLoad Load { get; }

        public static async Task<Scene> OpenAsync(PostgresNode postgres, FaultProxy? wire = null, int connections = 100)
        {
            string database = await postgres.NewDatabaseAsync();
            NpgsqlConnectionStringBuilder asSeen = new(database) { MaxPoolSize = connections };
            if (wire is not null) asSeen.Port = wire.Port;
            string seen = asSeen.ConnectionString;
            ServiceNode node = await ServiceNode.StartAsync(seen);
            FleetLoad load = await FleetLoad.CreateAsync(node.Host, "crews", 4, 1, TimeSpan.FromSeconds(60), node.Url);
            load.Begin();
            await load.TakenAsync(2);
            return new Scene(database, node, load);
        }

        public static async Task EndConnectionsOfServiceAsync(NpgsqlConnection by)
        {
            await using NpgsqlCommand command = new(
                "select count(pg_terminate_backend(pid)) from pg_stat_activity where datname = current_database() "
                + "and application_name <> 'holder'", by);
            await command.ExecuteScalarAsync();
        }

        public async Task RecoversAsync(string fault, int times)
        {
            await Load.TakenAsync(2);
            await Load.FinishAsync();
            FaultTable.Add(fault, times, await Account.CloseAsync(Load, Node, Database));
            TimeSpan longest = Load.Devices.Max(device => device.LongestWait);
            TestContext.Current.TestOutputHelper!.WriteLine($"longest answer {longest}; sent away {Load.Devices.Sum(device => device.SentAway)}");
            Assert.True(longest < LongestAnswer, $"An answer took {longest}.");
        }

        public async ValueTask DisposeAsync()
        {
            Load.Dispose();
            await Node.DisposeAsync();
        }
    }
}
