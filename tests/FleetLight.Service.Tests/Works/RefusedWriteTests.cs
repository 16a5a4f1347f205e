using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Health;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using Npgsql;
using Xunit;

namespace FleetLight.Service.Tests.Works;

/// <summary>
/// The database refuses to write what follows from a fact, some of it only as the transaction ends. The fact is set aside and named,
/// everything else goes on. Runs while no other service does: all services of a process would add to what it counts.
/// </summary>
[Collection(nameof(Alone))]
public sealed class RefusedWriteTests : FleetService
{
    [Theory]
    [InlineData("deferrable initially deferred")]
    [InlineData("")]
    public async Task A_fact_whose_state_the_database_refuses_is_set_aside_and_taken_in_once_it_is_not_refused_any_more(string when)
    {
        await RefuseAsync(when, "new.id like 'refused%'");
        Organisation organisation = await AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        int raised = await RaisedAsync();
        SentEvent[] sent = device.Record(
        [
            Facts.SiteOpened(), Facts.BoxSealed("box-1", gelFilled: false),
            .. Enumerable.Range(2, 60).Select(number => Facts.BoxSealed(number == 30 ? "refused-box" : $"box-{number}")),
        ]);
        await device.SendAsync(sent);
        await CaughtUpAsync();

        JsonNode aside = Assert.Single(await AsideAsync(organisation));
        Assert.Equal($"{device.Source}#{sent[30].Id} box:refused-box", $"{aside["fact"]} {aside["thing"]}");
        Assert.Contains("No such box here.", (string?)aside["error"], StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await organisation.Office.GetAsync("/v1/boxes/box-61")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await organisation.Office.GetAsync("/v1/boxes/refused-box")).Status);
        // The page ran twice at least: its alert is raised once, and counted once.
        JsonNode alert = Assert.Single(await ItemsAsync(organisation, "/v1/alerts?rule=ground-box-not-gel-filled"));
        Assert.Equal(1, (int)alert["timesRaised"]!);
        Assert.Equal(raised + 1, await RaisedAsync());

        await RunAsync("drop trigger refusing on fleetlight.fl_state");
        (await organisation.Office.PostAsync("/v1/set-aside/take-in")).Expect(HttpStatusCode.Accepted);
        await CaughtUpAsync();
        Assert.Empty(await AsideAsync(organisation));
        Assert.True((await organisation.Office.ReadAsync<BoxView>("/v1/boxes/refused-box")).GelFilled);
    }

    [Fact]
    public async Task A_database_that_refuses_every_state_stops_the_projection_and_no_fact_is_blamed()
    {
        await RefuseAsync("deferrable initially deferred", "true");
        Organisation organisation = await AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.SendAsync(device.Record([Facts.SiteOpened(), .. Enumerable.Range(1, 60).Select(number => Facts.BoxSealed($"box-{number}"))]));
        await Eventually.IsSoAsync(
            () => Log.All.Any(line => line.ToString()!.Contains("refuses more of a page", StringComparison.Ordinal)), "the projection to give up");
        Assert.Empty(await AsideAsync(organisation));

        await RunAsync("drop trigger refusing on fleetlight.fl_state");
        await CaughtUpAsync();
        Assert.Empty(await AsideAsync(organisation));
        Assert.Equal(HttpStatusCode.OK, (await organisation.Office.GetAsync("/v1/boxes/box-60")).Status);
    }

    private Task RefuseAsync(string when, string which) => RunAsync(
        $"""
        create or replace function fleetlight.refuse() returns trigger language plpgsql as $$
            begin if {which} then raise exception using errcode = '23514', message = 'No such box here.'; end if; return null; end $$;
        create constraint trigger refusing after insert or update on fleetlight.fl_state {when} for each row execute function fleetlight.refuse();
        """);

    private async Task RunAsync(string sql)
    {
        await using NpgsqlConnection connection = new(ConnectionString);
        await connection.OpenAsync();
        await using NpgsqlCommand command = new(sql, connection);
        await command.ExecuteNonQueryAsync();
    }

    private static async Task<JsonNode[]> ItemsAsync(Organisation organisation, string path) =>
        [.. (await organisation.Office.GetAsync(path)).Expect(HttpStatusCode.OK).Json["items"]!.AsArray().Select(each => each!)];

    private static Task<JsonNode[]> AsideAsync(Organisation organisation) => ItemsAsync(organisation, "/v1/set-aside");

    private async Task<int> RaisedAsync() => (await Anybody.GetAsync("/metrics")).Text.Split('\n')
        .Where(line => line.StartsWith("fleetlight_alert_changes", StringComparison.Ordinal) && line.Contains("\"raised\"", StringComparison.Ordinal))
        .Sum(line => (int)double.Parse(line.Split(' ')[1], CultureInfo.InvariantCulture));
}
