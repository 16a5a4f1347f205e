using System.Diagnostics;
using FleetLight.Faults.Tests.Load;
using FleetLight.Faults.Tests.Network;
using FleetLight.Faults.Tests.Nodes;
using FleetLight.Testing.Service;
using Npgsql;

namespace FleetLight.Faults.Tests;

/// <summary>Two nodes on one database: one projects, the other takes over, and no reader sees a state go backwards.</summary>
[Collection(nameof(OwnPostgres))]
public sealed class TwoNodesTests(OwnPostgres postgres)
{
    private const int Times = 4;

    // Well above what was measured, so that a slow machine does not fail it; minutes would.
    private static readonly TimeSpan LongestTakeOver = TimeSpan.FromSeconds(15);

    [Fact]
    public async Task One_projects_the_other_takes_over_and_no_reader_goes_back()
    {
        string database = await postgres.Node.NewDatabaseAsync();
        // Both at once on an empty database: neither may be in the other's way while the tables are made.
        ServiceNode[] nodes = await Task.WhenAll(ServiceNode.StartAsync(Named(database, 0)), ServiceNode.StartAsync(Named(database, 1)));
        await using ServiceNode first = nodes[0];
        await using ServiceNode second = nodes[1];
        await using WebhookReceiver receiver = await WebhookReceiver.StartAsync();
        ApiClient host = nodes.Select(node => node.HostOrNone).First(each => each is not null)!;
        using FleetLoad load = await FleetLoad.CreateAsync(host, "crews", 4, 7, TimeSpan.FromSeconds(20), first.Url, second.Url);
        (await load.Organisation.Office.PostAsync("/v1/webhooks", new { url = receiver.Url })).Expect(System.Net.HttpStatusCode.Created);

        load.Begin();
        await load.TakenAsync(3);
        using CancellationTokenSource enough = new();
        Task<int> reading = AlternatingReader.ReadAsync(load.Organisation, "circuit-0", nodes, enough.Token);
        List<TimeSpan> takeOvers = [];
        for (int kill = 0; kill < Times; kill++)
        {
            ServiceNode active = nodes[await ActiveAsync(database)];
            await active.KillAsync();
            takeOvers.Add(await MovesAsync(database));
            active.Start();
            await active.ReadyAsync();
            await load.TakenAsync(1);
        }

        await load.FinishAsync();
        Account account = await Account.CloseAsync(load, first, database);
        await enough.CancelAsync();
        int reads = await reading;
        TestContext.Current.TestOutputHelper!.WriteLine(
            $"taken over after {string.Join(", ", takeOvers.Select(each => $"{each.TotalSeconds:0.0}"))} s; {reads} reads from both in turns");
        FaultTable.Add("projecting node of two killed", Times, account);
        Assert.All(takeOvers, each => Assert.True(each < LongestTakeOver, $"It took {each} until the other node projected."));
        Assert.True(reads > 100, $"Only {reads} reads.");
        await OnceEachAsync(database, receiver);
    }

    /// <summary>Every alert is delivered, and more than once only where a node was killed between sending and noting it.</summary>
    private static async Task OnceEachAsync(string database, WebhookReceiver receiver)
    {
        // A killed node's deliveries stay leased for two minutes; the test does not wait for that.
        int again = int.Parse((await Account.QueryAsync(
            database, "with due as (update fleetlight.mt_doc_delivery set due_at = now() where data ->> 'state' = 'waiting' returning id) select count(*)::text from due"))[0],
            System.Globalization.CultureInfo.InvariantCulture);
        List<string> raised = await Account.QueryAsync(
            database, "select id::text from fleetlight.mt_events where type in ('fleetlight.alert.raised.v1', 'fleetlight.alert.cleared.v1')");
        List<string> made = await Account.QueryAsync(database, "select id from fleetlight.mt_doc_delivery");
        Assert.Equal(raised.Count, made.Count);
        await Eventually.IsSoAsync(() => receiver.Ids.Distinct().Count() == made.Count, "every delivery to be taken");
        Assert.Equal(made.Order(), receiver.Ids.Distinct().Order());
        Assert.InRange(receiver.Ids.Count - made.Count, 0, again + 8 * Times);
    }

    private static string Named(string database, int node) =>
        new NpgsqlConnectionStringBuilder(database) { ApplicationName = $"node-{node}" }.ConnectionString;

    /// <summary>The node that holds the lock of the projection.</summary>
    private static async Task<int> ActiveAsync(string database)
    {
        List<string> holders = await Eventually.ReadAsync(
            () => Account.QueryAsync(
                database,
                "select distinct a.application_name from pg_locks l join pg_stat_activity a using (pid) join pg_database d on d.oid = l.database "
                + "where l.locktype = 'advisory' and l.granted and d.datname = current_database() and a.application_name like 'node-%'"),
            found => found.Count == 1, "one node to hold the projection's lock");
        return holders[0][^1] - '0';
    }

    /// <summary>How long until the projection moves again.</summary>
    private static async Task<TimeSpan> MovesAsync(string database)
    {
        const string through = "select coalesce(max(last_seq_id), 0)::text from fleetlight.mt_event_progression where name = 'works:All'";
        long began = Stopwatch.GetTimestamp();
        string before = (await Account.QueryAsync(database, through))[0];
        await Eventually.IsSoAsync(async () => (await Account.QueryAsync(database, through))[0] != before, "the other node to project");
        return Stopwatch.GetElapsedTime(began);
    }
}
