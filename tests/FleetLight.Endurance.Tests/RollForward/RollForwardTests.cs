using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Wire;
using FleetLight.Endurance.Tests.Hosting;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Postgres;
using FleetLight.Testing.Service;
using Npgsql;
using Xunit;

namespace FleetLight.Endurance.Tests.RollForward;

/// <summary>The program of the version before runs beside the present one on one database, as deploy/runbook/upgrade.md has it.</summary>
public sealed class RollForwardTests(OldProgram old) : IClassFixture<OldProgram>, IAsyncLifetime
{
    private const string Name = "crews";
    private const int Crews = 3;

    private TestDatabase database = null!;
    private TestDatabase quiet = null!;

    public async ValueTask InitializeAsync() => (database, quiet) = (await TestDatabase.CreateAsync(), await TestDatabase.CreateAsync());

    public async ValueTask DisposeAsync()
    {
        await database.DisposeAsync();
        await quiet.DisposeAsync();
    }

    [Fact]
    public async Task Both_take_facts_the_projection_moves_between_them_and_nothing_is_lost_or_doubled()
    {
        Assert.SkipWhen(old.Assembly is null, old.WhyNot);
        await using SignedReceiver receiver = await SignedReceiver.StartAsync();
        await using ServiceProcess older = await ServiceProcess.StartAsync(Named("older"), old.Assembly);
        (Organisation organisation, RollingCrew[] crews) = await OrganisationAsync(older);
        Dictionary<string, string> secrets = new() { ["/before"] = await WebhookAsync(organisation.Office, receiver, "/before") };
        foreach (RollingCrew crew in crews) await crew.BuildAsync(older);
        await older.CaughtUpAsync();

        // The new version comes beside it; whoever administers may still be led to the old node.
        await using ServiceProcess newer = await ServiceProcess.StartAsync(Named("newer"));
        secrets["/beside"] = await WebhookAsync(organisation.Office, receiver, "/beside");
        ServiceProcess[] nodes = [older, newer];
        using CancellationTokenSource enough = new();
        Task<int> reading = RollingReader.ReadAsync(organisation.Office.Key!, crews[0].Circuit, nodes, enough.Token);
        Task<List<string>> following = RollingReader.FollowAsync(organisation.Office.Key!, nodes, enough.Token);
        await HoldsAsync("older");
        int turn = await MeasureAsync(crews, 0, 16, older, newer);
        await newer.CaughtUpAsync();

        // The projection goes to the new node, stays there while an old one comes back, and goes back with the new one's end.
        await older.StopAsync();
        await HoldsAsync("newer");
        turn = await MeasureAsync(crews, turn, 8, newer);
        await older.ReplaceAsync(old.Assembly);
        turn = await MeasureAsync(crews, turn, 16, older, newer);
        await newer.CaughtUpAsync();
        await newer.StopAsync();
        await HoldsAsync("older");
        await newer.ReplaceAsync(ServiceProcess.Sound);
        turn = await MeasureAsync(crews, turn, 16, older, newer);
        await newer.CaughtUpAsync();

        // What only the new version knows: the old one sets it aside at its door, and its projection stops before it.
        (SentEvent refused, string id) = await crews[0].RefusedAsync(older, crews[0].Place());
        await crews[1].HandInAsync(newer, crews[1].Place());
        turn = await MeasureAsync(crews, turn, 16, older, newer);
        await Eventually.IsSoAsync(async () => await BehindAsync(newer) > 0, "the old node's projection to stop");
        await HoldsAsync("older");

        await older.StopAsync();
        await newer.CaughtUpAsync();
        Organisation after = organisation.At(newer.Anybody);
        (await after.Office.PostAsync($"/v1/refused/{id}/resubmit", refused.Text, Envelope.SingleMediaType)).Expect(HttpStatusCode.OK);
        await MeasureAsync(crews, turn, 8, newer);
        await newer.CaughtUpAsync();
        await enough.CancelAsync();
        (int reads, List<string> told) = (await reading, await following);

        Assert.True(reads > 50, $"Only {reads} reads.");
        Assert.Equal((await States.AllAsync(after.Office, "/v1/changes?limit=1000")).Select(change => change.ToJsonString()), told);
        await NothingIsLostAsync(newer, crews, "old and new version side by side");
        await EachIsToldOnceAsync(receiver, secrets, ends: 4);
        Assert.Empty(await States.AllAsync(after.Office, "/v1/set-aside"));
        Assert.Equal(
            crews.Sum(crew => crew.Recorded.Count), (int)(await after.Office.PostAsync("/v1/ledger/checkpoint")).Expect(HttpStatusCode.OK).Json["size"]!);
        Assert.Equal((0, ""), await ServiceProcess.RunAsync(database.ConnectionString, "rebuild --unless-whole"));
        List<string> undisturbed = await UndisturbedAsync(crews);
        Assert.Equal(undisturbed, await StatesAsync(after.Office));
    }

    [Fact]
    public async Task What_an_old_node_sets_aside_for_it_does_not_know_what_the_thing_holds_is_taken_in_once_it_has_ended()
    {
        Assert.SkipWhen(old.Assembly is null, old.WhyNot);
        await using ServiceProcess newer = await ServiceProcess.StartAsync(Named("newer"));
        (Organisation organisation, RollingCrew[] crews) = await OrganisationAsync(newer);
        foreach (RollingCrew crew in crews) await crew.BuildAsync(newer);
        await crews[0].HandInAsync(newer, crews[0].Place());
        await newer.CaughtUpAsync();

        // Back to the version before, for a while.
        await newer.StopAsync();
        await using ServiceProcess older = await ServiceProcess.StartAsync(Named("older"), old.Assembly);
        await crews[0].HandInAsync(older, Facts.BoxSealed(crews[0].Box, gelFilled: true, siteId: crews[0].Site));
        await MeasureAsync(crews, 0, 8, older);
        await older.CaughtUpAsync();
        List<JsonNode> aside = await States.AllAsync(organisation.At(older.Anybody).Office, "/v1/set-aside");
        await older.StopAsync();

        await newer.ReplaceAsync(ServiceProcess.Sound);
        (await organisation.At(newer.Anybody).Office.PostAsync("/v1/set-aside/take-in")).Expect(HttpStatusCode.Accepted);
        await newer.CaughtUpAsync();

        // Not lost, and named: else this would show nothing.
        JsonNode one = Assert.Single(aside);
        Assert.Equal(("fact", "fleetlight.box.sealed.v1", $"box:{crews[0].Box}"), ((string?)one["kind"], (string?)one["type"], (string?)one["thing"]));
        Assert.Empty(await States.AllAsync(organisation.At(newer.Anybody).Office, "/v1/set-aside"));
        await NothingIsLostAsync(newer, crews, "back to the version before and forward again");
        List<string> undisturbed = await UndisturbedAsync(crews);
        Assert.Equal(undisturbed, await StatesAsync(organisation.At(newer.Anybody).Office));
    }

    private static async Task<(Organisation Organisation, RollingCrew[] Crews)> OrganisationAsync(ServiceProcess node)
    {
        Organisation organisation = await Organisation.CreateAsync(node.Host, Name);
        List<RollingCrew> crews = [];
        for (int crew = 0; crew < Crews; crew++) crews.Add(new RollingCrew($"{crew}", await organisation.AddDeviceAsync($"urn:device:{crew}")));
        return (organisation, [.. crews]);
    }

    private static async Task<string> WebhookAsync(ApiClient office, SignedReceiver receiver, string path) =>
        (string)(await office.PostAsync("/v1/webhooks", new { url = receiver.Url + path })).Expect(HttpStatusCode.Created).Json["secret"]!;

    // Every crew hands in at one node after the other, and now and then once more at the other.
    private static async Task<int> MeasureAsync(RollingCrew[] crews, int turn, int turns, params ServiceProcess[] nodes)
    {
        for (int end = turn + turns; turn < end; turn++)
        {
            int now = turn;
            await Task.WhenAll(crews.Select(async (crew, index) =>
            {
                await crew.MeasureAsync(nodes[(now + index) % nodes.Length], now);
                if (now % 3 == 0) await crew.AgainAsync(nodes[(now + index + 1) % nodes.Length]);
            }));
        }

        return turn;
    }

    private static async Task<long> BehindAsync(ServiceProcess node) => (long)(await node.Anybody.GetAsync("/health/ready")).Json["projectionBehind"]!;

    private string Named(string node) => new NpgsqlConnectionStringBuilder(database.ConnectionString) { ApplicationName = node }.ConnectionString;

    // Which node holds the lock of the projection.
    private Task<string> HoldsAsync(string node) => Eventually.ReadAsync(
        async () => string.Join(' ', await Sql.ReadAsync<string>(
            database.ConnectionString,
            """
            select distinct a.application_name from pg_locks as l join pg_stat_activity as a using (pid) join pg_database as d on d.oid = l.database
            where l.locktype = 'advisory' and l.granted and d.datname = current_database() and a.application_name in ('older', 'newer')
            """)),
        holders => holders == node, $"the {node} node to hold the lock of the projection");

    private async Task NothingIsLostAsync(ServiceProcess node, RollingCrew[] crews, string fault)
    {
        string[] sent = [.. crews.SelectMany(crew => crew.Recorded.Select(each => $"{Name} {crew.Device.Source}#{each.Id}")).Order()];
        List<string> found = await Sql.FactsAsync(database.ConnectionString);
        FaultRow row = new(fault, 1, sent.Length, sent.Length, found.Count, sent.Except(found).Count(), found.Count - found.Distinct().Count());
        row.Keep(fault.Replace(' ', '-'));
        Assert.Equal(sent, found.Order());
        foreach (RollingCrew crew in crews)
            Assert.Equal((crew.Device.Last, crew.Device.Last), ((int)(await crew.ReceiptAsync(node)).CompleteThrough, (int)(await crew.ReceiptAsync(node)).Highest));
    }

    // Every alert is told to every webhook, signed with its secret; twice at most what a node had under way when it ended.
    private async Task EachIsToldOnceAsync(SignedReceiver receiver, Dictionary<string, string> secrets, int ends)
    {
        await Sql.ReadAsync<string>(database.ConnectionString, "update fleetlight.mt_doc_delivery set due_at = now() where data ->> 'state' = 'waiting' returning id");
        List<string> made = await Sql.ReadAsync<string>(database.ConnectionString, "select id from fleetlight.mt_doc_delivery");
        List<string> events = await Sql.ReadAsync<string>(
            database.ConnectionString, "select type from fleetlight.mt_events where type in ('fleetlight.alert.raised.v1', 'fleetlight.alert.cleared.v1')");
        await Eventually.IsSoAsync(() => made.All(id => receiver.All.Any(told => told.Id == id)), "every delivery to be taken");

        Assert.NotEmpty(events);
        Assert.Equal(made.Order(), receiver.All.Select(told => told.Id).Distinct().Order());
        Assert.InRange(made.Count, events.Count, events.Count * secrets.Count);
        Assert.InRange(receiver.All.Count - made.Count, 0, 8 * ends);
        Assert.All(receiver.All, told => told.IsSignedBy(secrets[told.Path]));
        Assert.All(secrets.Keys, path => Assert.Contains(receiver.All, told => told.Path == path));
        Assert.Equal(
            secrets.Select(_ => "sealed"), await Sql.ReadAsync<string>(database.ConnectionString, "select data ->> 'secret' from fleetlight.mt_doc_webhook"));
    }

    // The same facts at a service of the new version that never had an old node beside it.
    private async Task<List<string>> UndisturbedAsync(RollingCrew[] crews)
    {
        await using ServiceProcess alone = await ServiceProcess.StartAsync(quiet.ConnectionString);
        Organisation organisation = await Organisation.CreateAsync(alone.Host, Name);
        foreach (RollingCrew crew in crews) await RollingCrew.TwinAsync(crew, await organisation.AddDeviceAsync(crew.Device.Source));
        await alone.CaughtUpAsync();
        return await StatesAsync(organisation.Office);
    }

    // The states, and the alerts that stand; without when something arrived. Which alerts stood for a while goes by the order of arrival.
    private static async Task<List<string>> StatesAsync(ApiClient office)
    {
        List<string> lines = [];
        foreach (string line in await States.OfAsync(office, withHistory: false))
        {
            if (line.StartsWith("/v1/webhooks", StringComparison.Ordinal) || line.StartsWith("/v1/refused", StringComparison.Ordinal)) continue;
            int at = line.IndexOf('{', StringComparison.Ordinal);
            JsonNode answer = JsonNode.Parse(line[at..])!;
            WhenArrived.Forget(answer);
            lines.Add($"{line[..at]}{answer.ToJsonString()}");
        }

        lines.AddRange((await States.AllAsync(office, "/v1/alerts?limit=1000"))
            .Select(alert => $"{alert["id"]} {alert["standing"]} {alert["finding"]!.ToJsonString()}").Order(StringComparer.Ordinal));
        return lines;
    }
}
