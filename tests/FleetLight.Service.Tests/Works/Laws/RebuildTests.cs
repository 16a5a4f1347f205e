using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Service.Works;
using FleetLight.Testing.Service;
using JasperFx.Events.Daemon;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Xunit;
using IProjectionCoordinator = Marten.Events.Daemon.Coordination.IProjectionCoordinator;

namespace FleetLight.Service.Tests.Works.Laws;

/// <summary>Law: throwing the projections away and rebuilding them gives the same documents and sends no message.</summary>
public sealed class RebuildTests(FleetService service) : IClassFixture<FleetService>
{
    // What was told to the world, and through where.
    private static readonly string[] Told = ["mt_doc_alertdocument", "mt_doc_delivery", "fl_change", "fl_emitted", "mt_streams"];

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task A_rebuild_is_the_identity_and_tells_nobody_anything(int seed)
    {
        string name = $"rebuilt-{seed}";
        Organisation organisation = await Arrival.ComeAsync(service, name, History.Make(150, seed), seed);
        await SubscribeAsync(organisation);
        // Half of the history before the webhook and half after it, so that some of its alerts have deliveries.
        await (await organisation.AddDeviceAsync("urn:late")).TellAsync(
            [.. Enumerable.Range(1, 5).Select(number => Some.BoxSealed($"late-{number}", gelFilled: false))]);
        await service.CaughtUpAsync();
        await PlanAsync(organisation);
        string[] states = await Dump.StatesAsync(service, name);
        string[] answers = await Dump.AnswersAsync(organisation);
        string[] told = await ToldAsync(name);
        Assert.Contains(told, row => row.StartsWith("mt_doc_delivery", StringComparison.Ordinal));
        Assert.Contains(told, row => row.StartsWith("fl_change", StringComparison.Ordinal));
        Assert.Contains(told, row => row.StartsWith("mt_doc_alertdocument", StringComparison.Ordinal));
        Assert.Contains(states, row => row.StartsWith("fl_visit", StringComparison.Ordinal));
        Assert.Contains(states, row => row.StartsWith("fl_photo", StringComparison.Ordinal));

        await RebuildAsync();
        await service.CaughtUpAsync();

        Assert.Equal(states, await Dump.StatesAsync(service, name));
        Assert.Equal(answers, await Dump.AnswersAsync(organisation));
        Assert.Equal(told, await ToldAsync(name));
    }

    // A visit that was changed, to an alert that stands.
    private async Task PlanAsync(Organisation organisation)
    {
        AlertView alert = (await organisation.Office.ReadAsync<Page<AlertView>>("/v1/alerts?limit=1")).Items[0];
        string[] alertIds = [alert.Id];
        VisitView visit = (await organisation.Office.PostAsync("/v1/visits", new { day = "2041-06-03", siteId = alert.SiteId, alertIds })).As<VisitView>();
        Answer changed = await organisation.Office.PutAsync($"/v1/visits/{visit.Id}", new { day = "2041-06-04", alertIds, version = 1 });
        Assert.Equal(2, changed.As<VisitView>().Version);
        await service.CaughtUpAsync();
    }

    [Fact]
    public async Task Facts_that_come_after_a_rebuild_are_taken_in_as_ever()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.BoxSealed(gelFilled: false), Some.CircuitDesigned(), Some.Reading(9.8));
        await service.CaughtUpAsync();

        await RebuildAsync();
        await device.TellAsync(Some.BoxSealed(gelFilled: true), Some.Reading(12.4));
        await service.CaughtUpAsync();

        Site site = new(service, organisation, device);
        Assert.True((await site.BoxAsync()).GelFilled);
        Assert.Equal([12.4, 9.8], await site.ReadingsAsync());
        string[] standing = [.. (await organisation.Office.GetAsync("/v1/alerts")).Json["items"]!.AsArray().Select(alert => (string)alert!["finding"]!["rule"]!)];
        Assert.Contains("reading-outside", standing);
        Assert.DoesNotContain("ground-box-not-gel-filled", standing);
    }

    [Fact]
    public async Task Facts_that_come_while_a_rebuild_runs_are_taken_in_and_told_once()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync([.. Enumerable.Range(1, 200).Select(number => Some.BoxSealed($"box-{number}", gelFilled: false))]);
        await service.CaughtUpAsync();

        Task rebuilding = RebuildAsync();
        for (int number = 201; number <= 220; number++) await device.TellAsync(Some.BoxSealed($"box-{number}", gelFilled: false));
        await rebuilding;
        await service.CaughtUpAsync();

        Assert.Equal([220L], await service.QueryAsync<long>(
            "select count(*) from fleetlight.mt_events where tenant_id = $1 and type = 'fleetlight.alert.raised.v1'", organisation.Name));
        Assert.Equal([220L], await service.QueryAsync<long>(
            "select count(distinct thing_id) from fleetlight.fl_change where tenant_id = $1 and kind = 'box'", organisation.Name));
        Assert.Equal(220, (await organisation.Office.GetAsync($"/v1/sites/{Some.Site}/as-built")).Json["features"]!.AsArray().Count);
    }

    [Fact]
    public async Task What_came_before_a_rebuild_and_was_not_told_yet_is_told_by_it_and_nothing_else()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(
            Some.BoxSealed("cleared-by-it", gelFilled: false), Some.BoxSealed("stays", gelFilled: false), Some.BoxSealed("returns", gelFilled: false));
        await service.CaughtUpAsync();
        await device.TellAsync(Some.BoxSealed("returns"));
        await service.CaughtUpAsync();
        Assert.Equal(["raised 1", "raised 1", "cleared 1"], await AlertsAsync(organisation, "cleared-by-it", "stays", "returns"));

        await RebuildAsync(beforehand: () => device.TellAsync(
            Some.BoxSealed("cleared-by-it"), Some.BoxSealed("returns", gelFilled: false), Some.BoxSealed("new", gelFilled: false)));
        await service.CaughtUpAsync();

        Assert.Equal(
            ["cleared 1", "raised 1", "raised 2", "raised 1"], await AlertsAsync(organisation, "cleared-by-it", "stays", "returns", "new"));
        Assert.Equal([5L, 2L], await service.QueryAsync<long>(
            "select count(*) from fleetlight.mt_events where tenant_id = $1 and type like 'fleetlight.alert.%' group by type order by 1 desc", organisation.Name));
    }

    private static async Task<string[]> AlertsAsync(Organisation organisation, params string[] boxes)
    {
        var alerts = (await organisation.Office.GetAsync("/v1/alerts?standing=any&rule=ground-box-not-gel-filled")).Json["items"]!.AsArray();
        return [.. boxes.Select(box => alerts.Single(alert => (string)alert!["finding"]!["subject"]!["id"]! == box)!)
            .Select(alert => $"{alert["standing"]} {alert["timesRaised"]}")];
    }

    private static async Task SubscribeAsync(Organisation organisation) =>
        // Nobody listens there: deliveries are made, and what becomes of them is not the question here.
        (await organisation.Office.PostAsync("/v1/webhooks", new { url = "http://127.0.0.1:9/" })).Expect(System.Net.HttpStatusCode.Created);

    private async Task<string[]> ToldAsync(string organisation)
    {
        List<string> lines = [];
        foreach (string table in Told) lines.AddRange(await Dump.RowsAsync(service, table, organisation));
        // Attempts go on meanwhile; that there is one delivery for each alert event and webhook is what counts.
        return [.. lines.Select(line => line.StartsWith("mt_doc_delivery", StringComparison.Ordinal) ? line[..line.IndexOf("\"data\"", StringComparison.Ordinal)] : line)];
    }

    // As it is done on a running node: its daemon lets go, another builds the projection again, and the first takes it up.
    private async Task RebuildAsync(Func<Task>? beforehand = null)
    {
        var coordinator = service.Running.Services.GetRequiredService<IProjectionCoordinator>();
        await coordinator.PauseAsync();
        if (beforehand is not null) await beforehand();
        using (IProjectionDaemon daemon = await service.Running.Services.GetRequiredService<IDocumentStore>().BuildProjectionDaemonAsync())
            await daemon.RebuildProjectionAsync(WorksProjection.Name, TestContext.Current.CancellationToken);
        await coordinator.ResumeAsync();
    }
}
