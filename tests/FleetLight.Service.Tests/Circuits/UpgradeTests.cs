using FleetLight.Contracts.Views;
using FleetLight.Service.Store;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;
using Models = FleetLight.Electrics.Expected;

namespace FleetLight.Service.Tests.Circuits;

/// <summary>
/// A service whose models are newer than those that judged what lies in its store. The older ones are made by writing their
/// version, and another verdict than this version's, into the rows.
/// </summary>
/// <remarks>The tests of this class write past the service and start it again, so each has a service of its own.</remarks>
public sealed class UpgradeTests : IAsyncLifetime
{
    private const string Path = $"/v1/circuits/{Some.Circuit}";
    private const int Earlier = Models.ModelVersion - 1;

    private readonly FleetService service = new();

    /// <inheritdoc/>
    public ValueTask InitializeAsync() => service.InitializeAsync();

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => service.DisposeAsync();

    [Fact]
    public async Task What_an_earlier_version_judged_keeps_its_verdict_and_version()
    {
        (Organisation organisation, _) = await JudgedEarlierAsync();

        CircuitView circuit = await organisation.Office.ReadAsync<CircuitView>(Path);

        Assert.Equal((Earlier, CircuitVerdict.Doubtful), Judged(circuit, 0));
        Assert.Equal(CircuitVerdict.Doubtful, circuit.Verdict);
    }

    [Fact]
    public async Task A_new_reading_is_judged_by_the_new_version_and_the_old_one_is_left()
    {
        (Organisation organisation, Device device) = await JudgedEarlierAsync();

        await device.TellAsync(Some.Reading(9.7));
        await service.CaughtUpAsync();

        CircuitView circuit = await organisation.Office.ReadAsync<CircuitView>(Path);
        Assert.Equal((Models.ModelVersion, CircuitVerdict.Within), Judged(circuit, 0));
        Assert.Equal((Earlier, CircuitVerdict.Doubtful), Judged(circuit, 1));
    }

    [Fact]
    public async Task A_changed_design_has_all_of_them_judged_by_the_new_version()
    {
        (Organisation organisation, Device device) = await JudgedEarlierAsync();

        await device.TellAsync(Device.Began.AddMinutes(1), Some.CircuitDesigned(watts: [1.6, 1.6, 0.05]));
        await service.CaughtUpAsync();

        CircuitView circuit = await organisation.Office.ReadAsync<CircuitView>(Path);
        Assert.Equal(Models.ModelVersion, Assert.Single(circuit.LastReadings).ModelVersion);
    }

    private async Task<(Organisation Organisation, Device Device)> JudgedEarlierAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.CircuitDesigned(), Some.CablePulled(), Some.Reading(9.8));
        await service.CaughtUpAsync();
        await service.StopAsync();
        await service.QueryAsync<int>(
            $"with basis as (update {Tables.Schema}.fl_state set body = regexp_replace(body, '\"modelVersion\":\\d+', '\"modelVersion\":{Earlier}', 'g') "
            + "where kind = 'basis' returning 1), "
            + $"judged as (update {Tables.Schema}.fl_circuit set judged = split_part(judged, ' ', 1) || ' {Earlier}d' returning 1) "
            + "select 1 from basis, judged");
        await service.StartAsync();
        Device again = new(service.Anybody.With(device.Api.Key), device.Source);
        again.Skip(device.Last);
        return (organisation.At(service.Anybody), again);
    }

    private static (int Version, CircuitVerdict Verdict) Judged(CircuitView circuit, int reading) =>
        (circuit.LastReadings[reading].ModelVersion, circuit.LastReadings[reading].Verdict);
}
