using System.Net;
using FleetLight.Service.Health;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Service.Works;
using FleetLight.Testing.Service;
using Microsoft.Extensions.DependencyInjection;
using Xunit;
using IProjectionCoordinator = Marten.Events.Daemon.Coordination.IProjectionCoordinator;

namespace FleetLight.Service.Tests.Health;

/// <summary>A daemon that has stopped, whatever stopped it, is told of and starts again without anybody's hand.</summary>
public sealed class StandstillTests(StandstillTests.ImpatientService service) : IClassFixture<StandstillTests.ImpatientService>
{
    [Fact]
    public async Task A_daemon_that_has_stopped_is_told_of_and_started_anew()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.BoxSealed("before"));
        await service.CaughtUpAsync();

        await service.Running.Services.GetRequiredService<IProjectionCoordinator>().PauseAsync();
        await device.TellAsync(Some.BoxSealed("after"));

        HealthView told = await Eventually.ReadAsync(
            () => service.Anybody.ReadAsync<HealthView>("/health/ready"), health => health.Missing.Count > 0, "the check to tell of it");
        Assert.Equal("ready", told.Status);
        Assert.StartsWith("The projection has stood still for ", Assert.Single(told.Missing), StringComparison.Ordinal);
        await Eventually.IsSoAsync(async () => (await organisation.Office.GetAsync("/v1/boxes/after")).Status == HttpStatusCode.OK, "the daemon to go on");
        await Eventually.ReadAsync(
            () => service.Anybody.ReadAsync<HealthView>("/health/ready"), health => health.Missing.Count == 0, "the check to be content again");
    }

    /// <summary>A service that waits seconds where others wait a minute.</summary>
    public sealed class ImpatientService : FleetService
    {
        protected override void Configure(IServiceCollection services) => services.AddSingleton(new ProjectionWatchOptions
        {
            LookEvery = TimeSpan.FromMilliseconds(200),
            ToldAfter = TimeSpan.FromSeconds(1),
            StartedAnewAfter = TimeSpan.FromSeconds(4),
        });
    }
}
