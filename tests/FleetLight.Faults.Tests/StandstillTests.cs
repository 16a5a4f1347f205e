using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Faults.Tests.Load;
using FleetLight.Faults.Tests.Nodes;
using FleetLight.Testing.Service;
using Npgsql;

namespace FleetLight.Faults.Tests;

/// <summary>The projection cannot run, while facts are taken as ever: the health check and the metrics say so.</summary>
[Collection(nameof(OwnPostgres))]
public sealed class StandstillTests(OwnPostgres postgres)
{
    [Fact]
    public async Task A_projection_that_stands_still_is_told_and_goes_on_by_itself()
    {
        string database = await postgres.Node.NewDatabaseAsync();
        await using ServiceNode node = await ServiceNode.StartAsync(database);
        using FleetLoad load = await FleetLoad.CreateAsync(node.Host, "crews", 2, 3, TimeSpan.FromSeconds(20), node.Url);
        load.Begin();
        await load.TakenAsync(2);

        await using (NpgsqlConnection holder = new(database + ";Pooling=false"))
        {
            // Whoever holds this table, a stranger's transaction for one, holds up every page.
            await holder.OpenAsync(TestContext.Current.CancellationToken);
            await using NpgsqlCommand hold = new("begin; lock table fleetlight.fl_emitted in access exclusive mode", holder);
            await hold.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);

            JsonNode health = await Eventually.ReadAsync(
                async () => (await node.Anybody.GetAsync("health/ready")).Expect(HttpStatusCode.OK).Json,
                said => said["missing"]!.AsArray().Count > 0, "the health check to tell of the projection");
            Assert.Equal("ready", (string)health["status"]!);
            Assert.Matches("^The projection has stood still for [0-9]+ s while [0-9]+ events wait", (string)health["missing"]![0]!);
            string metrics = (await node.Anybody.GetAsync("metrics")).Text;
            Assert.True(Gauge(metrics, "fleetlight_projection_still_seconds") >= 15);
            Assert.True(Gauge(metrics, "fleetlight_projection_behind") > 0);
            await load.TakenAsync(2);
        }

        await load.FinishAsync();
        FaultTable.Add("projection held up", 1, await Account.CloseAsync(load, node, database));
        await Eventually.IsSoAsync(
            async () => (await node.Anybody.GetAsync("health/ready")).Json["missing"]!.AsArray().Count == 0, "the health check to be content");
    }

    private static double Gauge(string metrics, string name) => double.Parse(
        metrics.Split('\n').Single(line => line.StartsWith(name + "{", StringComparison.Ordinal)).Split("} ")[1].Split(' ')[0],
        System.Globalization.CultureInfo.InvariantCulture);
}
