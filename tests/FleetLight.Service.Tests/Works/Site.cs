using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;

namespace FleetLight.Service.Tests.Works;

/// <summary>An organisation with one device, and what its office is shown.</summary>
internal sealed record Site(FleetService Service, Organisation Organisation, Device Device)
{
    /// <summary>Hands facts in and waits until they show.</summary>
    public async Task TellAsync(params IFact[] facts)
    {
        await Device.TellAsync(facts);
        await Service.CaughtUpAsync();
    }

    public Task<CableView> CableAsync(string id = Some.Cable) => Organisation.Office.ReadAsync<CableView>($"/v1/cables/{id}");

    public Task<DuctView> DuctAsync(string id = Some.Duct) => Organisation.Office.ReadAsync<DuctView>($"/v1/ducts/{id}");

    public Task<BoxView> BoxAsync(string id = Some.Box) => Organisation.Office.ReadAsync<BoxView>($"/v1/boxes/{id}");

    public Task<CircuitView> CircuitAsync(string id = Some.Circuit) => Organisation.Office.ReadAsync<CircuitView>($"/v1/circuits/{id}");

    /// <summary>The values of the newest readings as the status shows them.</summary>
    public async Task<IEnumerable<double>> ReadingsAsync(string circuit = Some.Circuit) =>
        (await CircuitAsync(circuit)).LastReadings.Select(reading => reading.Value);

    /// <summary>The values of all readings as the list shows them.</summary>
    public async Task<IEnumerable<double>> ListedAsync(string circuit = Some.Circuit) =>
        (await Organisation.Office.ReadAsync<Page<ReadingEntry>>($"/v1/circuits/{circuit}/readings")).Items.Select(reading => reading.Value);

    /// <summary>What the circuit should read at its driver, V.</summary>
    public async Task<double> ExpectedVoltsAsync() => (await CircuitAsync()).Expected
        .Single(each => each is { Place: ReadingPlaceKind.Driver, Quantity: ReadingQuantity.VoltsDc }).Expected.Value;
}
