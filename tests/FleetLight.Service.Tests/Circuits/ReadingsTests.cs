using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Circuits;

public sealed class ReadingsTests(FleetService service) : IClassFixture<FleetService>
{
    private const string Path = $"/v1/circuits/{Some.Circuit}/readings";

    [Fact]
    public async Task Every_reading_is_listed_newest_first_whenever_it_arrived()
    {
        (Organisation organisation, Device device) = await AddAsync();
        SentEvent[] readings = [.. Enumerable.Range(1, 40).Select(number => device.Record(Some.Reading(number)))];
        await device.SendAsync(readings[20..]);
        await device.SendAsync([.. readings[..20].Reverse()]);
        await service.CaughtUpAsync();

        List<ReadingEntry> listed = await Pages.AllAsync<ReadingEntry>(organisation.Office, $"{Path}?limit=15", expectedPages: 3);

        Assert.Equal(Enumerable.Range(1, 40).Reverse().Select(number => (double)number), listed.Select(reading => reading.Value));
    }

    [Fact]
    public async Task The_status_shows_the_newest_sixteen()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.SendAsync([.. Enumerable.Range(1, 40).Select(number => device.Record(Some.Reading(number)))]);
        await service.CaughtUpAsync();

        CircuitView circuit = await organisation.Office.ReadAsync<CircuitView>($"/v1/circuits/{Some.Circuit}");

        Assert.Equal(Enumerable.Range(25, 16).Reverse().Select(number => (double)number), circuit.LastReadings.Select(reading => reading.Value));
    }

    [Fact]
    public async Task Readings_that_happened_at_one_instant_keep_the_order_of_the_facts_in_the_status_and_are_all_listed()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device b = await organisation.AddDeviceAsync("urn:device:B");
        Device a = await organisation.AddDeviceAsync("urn:device:a");
        DateTimeOffset at = Device.Began;
        // By the order of characters a capital comes before a small letter, whatever the database's language says.
        await a.SendAsync(a.Record(Some.Reading(3), at), a.Record(Some.Reading(4), at));
        await b.SendAsync(b.Record(Some.Reading(1), at), b.Record(Some.Reading(2), at));
        await service.CaughtUpAsync();

        CircuitView circuit = await organisation.Office.ReadAsync<CircuitView>($"/v1/circuits/{Some.Circuit}");
        List<ReadingEntry> listed = await Pages.AllAsync<ReadingEntry>(organisation.Office, $"{Path}?limit=1", expectedPages: 4);

        Assert.Equal([4, 3, 2, 1], circuit.LastReadings.Select(reading => reading.Value));
        Assert.Equal([1, 2, 3, 4], listed.Select(reading => reading.Value).Order());
    }

    [Fact]
    public async Task A_circuit_without_a_reading_has_an_empty_list()
    {
        (Organisation organisation, _) = await AddAsync();

        Assert.Empty(await Pages.AllAsync<ReadingEntry>(organisation.Office, Path, expectedPages: 1));
    }

    private async Task<(Organisation Organisation, Device Device)> AddAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return (organisation, await organisation.AddDeviceAsync());
    }
}
