using System.Net;
using FleetLight.Service.Health;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Marten.Events.Daemon.Coordination;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FleetLight.Service.Tests.Health;

/// <remarks>These tests stop the projection, so each has a service of its own.</remarks>
public sealed class HealthTests : IAsyncLifetime
{
    private readonly FleetService service = new();

    private IProjectionCoordinator Projection => service.Running.Services.GetRequiredService<IProjectionCoordinator>();

    public ValueTask InitializeAsync() => service.InitializeAsync();

    public ValueTask DisposeAsync() => service.DisposeAsync();

    [Fact]
    public async Task A_new_service_is_alive_and_ready_with_nothing_missing()
    {
        // The service writes down its own first act, which the projection has to come past.
        await service.CaughtUpAsync();
        HealthView live = await service.Anybody.ReadAsync<HealthView>("/health/live");
        HealthView ready = await service.Anybody.ReadAsync<HealthView>("/health/ready");

        Assert.Equal("ready", live.Status);
        Assert.Equal(("ready", 0L), (ready.Status, ready.ProjectionBehind));
        Assert.Empty(ready.Missing);
    }

    [Fact]
    public async Task It_says_how_far_the_projection_is_behind()
    {
        Device device = await (await service.AddOrganisationAsync()).AddDeviceAsync();
        await service.CaughtUpAsync();
        await Projection.PauseAsync();

        await device.TellAsync(Some.SiteOpened(), Some.DuctLaid(), Some.BoxSealed());

        HealthView ready = await service.Anybody.ReadAsync<HealthView>("/health/ready");
        Assert.Equal(("ready", 3L), (ready.Status, ready.ProjectionBehind));
        await Projection.ResumeAsync();
        await service.CaughtUpAsync();
    }

    [Fact]
    public async Task A_projection_that_is_far_behind_makes_it_not_ready()
    {
        Device device = await (await service.AddOrganisationAsync()).AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened());
        await service.CaughtUpAsync();
        await Projection.PauseAsync();
        await service.QueryAsync<string>("update fleetlight.mt_event_progression set last_seq_id = last_seq_id - 200001 where name = 'works:All' returning name");

        Answer answer = await service.Anybody.GetAsync("/health/ready");

        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.Status);
        Assert.Equal(["The projection is far behind."], answer.As<HealthView>().Missing);
    }

    [Fact]
    public async Task An_event_that_the_projection_cannot_read_is_passed_over_and_told()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await Projection.PauseAsync();
        await device.TellAsync(Some.BoxSealed("spoilt"), Some.BoxSealed("sound"));
        await service.QueryAsync<string>(
            """update fleetlight.mt_events set data = jsonb_set(data, '{data,lie}', '"sideways"') where data -> 'data' ->> 'boxId' = 'spoilt' returning type""");

        await Projection.ResumeAsync();
        await Eventually.IsSoAsync(async () => (await organisation.Office.GetAsync("/v1/boxes/sound")).Status == HttpStatusCode.OK, "the sound one to show");

        HealthView ready = await Eventually.ReadAsync(
            () => service.Anybody.ReadAsync<HealthView>("/health/ready"), health => health.Missing.Count > 0, "the check to tell of it");
        Assert.Equal(("ready", "1 event could not be read and is missing in the states: see GET /v1/set-aside."), (ready.Status, Assert.Single(ready.Missing)));
    }
}
