using FleetLight.Endurance.Tests.Hosting;
using FleetLight.Testing.Postgres;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Endurance.Tests.Upgrade;

/// <summary>Makes what <c>tests/upgrade/make-dump</c> keeps. It is run by that script only.</summary>
public sealed class DumpMaker
{
    [Fact]
    public async Task Make()
    {
        Assert.SkipWhen(
            Environment.GetEnvironmentVariable("FLEETLIGHT_DUMP_SERVICE") is null, "It makes a dump, and is run by tests/upgrade/make-dump only.");
        string assembly = Path.GetFullPath(Given("FLEETLIGHT_DUMP_SERVICE")), answers = Given("FLEETLIGHT_DUMP_ANSWERS");
        string connection = await PostgresServer.GetConnectionStringAsync(TestContext.Current.CancellationToken);
        await using ServiceProcess service = await ServiceProcess.StartAsync(connection, assembly);
        (ApiClient office, Device crew, Device van, Dictionary<string, string> secrets) = await SmallLoad.HandInAsync(service);
        string[] receipts = [.. await Task.WhenAll(new[] { crew, van }.Select(async device => (await device.Api.GetAsync("/v1/devices/self/receipts")).Text))];
        new Dumped(
            office.Key!, [crew.Api.Key!, van.Api.Key!], [.. await States.OfAsync(office)], receipts, [.. (await Sql.FactsAsync(connection)).Order()],
            [.. await States.BesideAsync(office)], secrets).Keep(answers);
        await service.StopAsync();
    }

    private static string Given(string name) => Environment.GetEnvironmentVariable(name) ?? throw new InvalidOperationException($"{name} is not set.");
}
