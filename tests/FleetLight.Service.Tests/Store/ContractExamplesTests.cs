using System.Net;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Store;

/// <summary>The examples of the contract, handed in, and what an earlier version stored, projected.</summary>
public sealed class ContractExamplesTests(FleetService service) : IClassFixture<FleetService>
{
    private const string ExamplesSource = "/devices/crew-1";

    public static TheoryData<string> Types => [.. FactTypes.All.Select(pair => pair.Key)];

    [Theory]
    [MemberData(nameof(Types))]
    public async Task An_example_is_taken_as_it_stands_alone_and_in_a_batch(string type)
    {
        Device device = await (await service.AddOrganisationAsync()).AddDeviceAsync(ExamplesSource);
        string example = await ReadAsync("examples", type);

        Answer alone = await device.Api.PostAsync("/v1/events", example, Envelope.SingleMediaType);
        Answer inBatch = await device.PostAsync($"[{example}]");

        Assert.Equal(FactOutcome.Recorded, Assert.Single(alone.Expect(HttpStatusCode.OK).As<BatchReceipt>().Outcomes).Outcome);
        Assert.Equal(FactOutcome.Duplicate, Assert.Single(inBatch.Expect(HttpStatusCode.OK).As<BatchReceipt>().Outcomes).Outcome);
    }

    [Fact]
    public async Task What_was_stored_by_any_version_is_projected()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        string[] names = [.. Directory.EnumerateFiles(Repository.At("contracts/golden")).Select(file => Path.GetFileNameWithoutExtension(file))];
        Assert.NotEmpty(names);
        foreach (string name in names.Where(name => !name.StartsWith("fleetlight.alert.", StringComparison.Ordinal)))
            await KeepAsync(organisation.Name, name, await ReadAsync("golden", name));

        await service.CaughtUpAsync();

        ApiClient office = organisation.Office;
        Assert.Equal("Walled garden, plot 14", (await office.ReadAsync<SiteView>("/v1/sites/s-plot-14")).Name);
        Assert.Contains((await office.ReadAsync<DuctView>("/v1/ducts/d-steps")).Findings, finding => finding.Rule == "duct-left-open");
        Assert.Equal(1, (await office.ReadAsync<CableView>("/v1/cables/k-steps")).SpareCores);
        Assert.Equal("b-steps", (await office.ReadAsync<BoxView>("/v1/boxes/b-steps-again")).SameAs);
        CircuitView circuit = await office.ReadAsync<CircuitView>("/v1/circuits/c-steps");
        Assert.Equal((CircuitPhase.HandedOver, 9.36), (circuit.Phase, Assert.Single(circuit.LastReadings).Value));
        Assert.Empty((await service.Anybody.GetAsync("/health/ready")).Json["missing"]!.AsArray());
    }

    private static Task<string> ReadAsync(string folder, string name) =>
        File.ReadAllTextAsync(Repository.At($"contracts/{folder}/{name}.json"), TestContext.Current.CancellationToken);

    // As it stands in the tables of a store that was in use before.
    private async Task KeepAsync(string organisation, string type, string data)
    {
        await service.QueryAsync<string>(
            """
            insert into fleetlight.mt_streams (id, version, tenant_id, timestamp) values ($1, 1, $2, now())
            on conflict (tenant_id, id) do update set version = mt_streams.version + 1 returning id
            """,
            ExamplesSource, organisation);
        await service.QueryAsync<Guid>(
            """
            insert into fleetlight.mt_events (seq_id, id, stream_id, version, data, type, timestamp, tenant_id, is_archived)
            values (nextval('fleetlight.mt_events_sequence'), $1, $2, (select version from fleetlight.mt_streams where id = $2 and tenant_id = $3), $4::jsonb, $5, now(), $3, false)
            returning id
            """,
            EventIdOf(organisation, data), ExamplesSource, organisation, data, type);
    }

    // What an organisation set is no device's fact and has an id of the store's own.
    private static Guid EventIdOf(string organisation, string data) =>
        System.Text.Json.Nodes.JsonNode.Parse(data)!["of"] is { } of
            ? Service.Store.EventIds.OfFact(organisation, ExamplesSource, (string)of["id"]!)
            : Guid.NewGuid();
}
