using System.Net;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Intake;

/// <summary>Several devices on one circuit at once is the normal day.</summary>
public sealed class ManyDevicesTests(FleetService service) : IClassFixture<FleetService>
{
    private const int Devices = 16;
    private const int Batches = 8;
    private const int FactsInABatch = 12;
    private static readonly string[] Circuits = ["circuit-1", "circuit-2", "circuit-3"];

    [Fact]
    public async Task Sixteen_devices_on_the_same_circuits_no_batch_fails_and_every_fact_is_there_once()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device[] devices = await Task.WhenAll(Enumerable.Range(0, Devices).Select(_ => organisation.AddDeviceAsync()));

        Answer[][] answers = await Task.WhenAll(devices.Select(device => Task.Run(() => WorkAsync(device))));

        Assert.All(answers.SelectMany(each => each), answer => Assert.Equal(HttpStatusCode.OK, answer.Status));
        Assert.All(answers, each => Assert.Equal(Batches * FactsInABatch, each[^1].As<BatchReceipt>().Receipt.CompleteThrough));
        await service.CaughtUpAsync();
        Assert.Equal([Devices * Batches * FactsInABatch], await service.QueryAsync<long>(
            "select count(*) from fleetlight.mt_events where tenant_id = $1 and data ? 'of'", organisation.Name));
        Assert.Equal(Devices * Batches * Circuits.Length, await ReadingsOfAsync(organisation));
        foreach (string circuit in Circuits)
        {
            CircuitView view = await organisation.Office.ReadAsync<CircuitView>($"/v1/circuits/{circuit}");
            Assert.Equal(CircuitPhase.Named, view.Phase);
            Assert.Equal(ReadingWindow.Size, view.LastReadings.Count);
        }
    }

    [Fact]
    public async Task Two_batches_of_one_device_at_once_record_each_fact_once()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        SentEvent[] facts = [.. Enumerable.Range(1, 60).Select(number => device.Record(Some.Reading(9 + number / 100.0)))];

        // Overlapping pieces of one outbox, all at once: a device that gave up waiting and sends again does this.
        BatchReceipt[] receipts = await Task.WhenAll(Enumerable.Range(0, 20).Select(round =>
            Task.Run(() => device.SendAsync(facts[(round % 5 * 10)..(round % 5 * 10 + 20)]))));

        Assert.Equal(facts.Length, receipts.Sum(receipt => receipt.Recorded));
        Assert.Equal(20 * 20, receipts.Sum(receipt => receipt.Recorded + receipt.Duplicates));
        Assert.Equal(60, (await device.ReceiptAsync()).CompleteThrough);
        Assert.Equal([60L], await service.QueryAsync<long>("select count(*) from fleetlight.mt_events where tenant_id = $1 and data ? 'of'", organisation.Name));
    }

    [Fact]
    public async Task Two_services_on_one_database_take_one_devices_batches_without_a_double()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await using RunningService second = await service.StartSecondAsync();
        Device sameDeviceThere = new(second.Api.With(device.Api.Key), device.Source);
        SentEvent[] facts = [.. Enumerable.Range(1, 40).Select(number => device.Record(Some.Reading(9 + number / 100.0)))];

        BatchReceipt[] receipts = await Task.WhenAll(Enumerable.Range(0, 16).Select(round =>
            Task.Run(() => (round % 2 == 0 ? device : sameDeviceThere).SendAsync(facts))));

        Assert.Equal(facts.Length, receipts.Sum(receipt => receipt.Recorded));
        Assert.Equal([40L], await service.QueryAsync<long>("select count(*) from fleetlight.mt_events where tenant_id = $1 and data ? 'of'", organisation.Name));
    }

    private static async Task<Answer[]> WorkAsync(Device device)
    {
        List<Answer> answers = [];
        for (int batch = 0; batch < Batches; batch++)
        {
            answers.Add(await device.PostAsync([.. Circuits.SelectMany(circuit => device.Record(
                Some.FittingFixed(1, circuit), Some.FittingFixed(2, circuit), Some.CircuitEnergised(circuit), Some.Reading(9.3, circuit)))]));
        }

        return [.. answers];
    }

    private static async Task<int> ReadingsOfAsync(Organisation organisation)
    {
        int count = 0;
        foreach (string circuit in Circuits)
            count += (await organisation.Office.ReadAsync<Page<ReadingEntry>>($"/v1/circuits/{circuit}/readings?limit=1000")).Items.Count;
        return count;
    }
}
