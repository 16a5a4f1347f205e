using FleetLight.Contracts.Views;
using FleetLight.Service.Store;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Circuits;

/// <summary>Readings over months in a circuit's status, and the alert that they raise.</summary>
public sealed class DriftTests(FleetService service) : IClassFixture<FleetService>
{
    private const string Path = $"/v1/circuits/{Some.Circuit}";

    [Fact]
    public async Task Readings_that_drift_show_in_the_status_and_raise_one_alert_that_a_repair_clears()
    {
        (Organisation organisation, Device device) = await OpenAsync();
        await ReadAsync(device, 14, month => 9.3 + (0.04 * month));

        DriftView drift = Assert.Single((await organisation.Office.ReadAsync<CircuitView>(Path)).Drift!);
        Assert.Equal((ReadingTrend.SlowChange, 14, true), (drift.Trend, drift.Visits, drift.AsksForVisit));
        AlertView alert = Assert.Single(await AlertsAsync(organisation));
        Assert.Equal((AlertStanding.Raised, 1, 8), (alert.Standing, alert.TimesRaised, alert.Finding.Evidence.Count));
        Assert.Contains(drift.Says, alert.Finding.Reason, StringComparison.Ordinal);

        await device.TellAsync(Month(0).AddHours(5), Some.RepairMade());
        await device.TellAsync(Month(0).AddHours(6), Some.Reading(9.3));
        await service.CaughtUpAsync();

        Assert.Empty(await AlertsAsync(organisation));
        Assert.Equal(ReadingTrend.CannotTell, Assert.Single((await organisation.Office.ReadAsync<CircuitView>(Path)).Drift!).Trend);
    }

    [Fact]
    public async Task A_withdrawn_reading_is_followed_by_an_older_one_of_the_same_fortnight_however_many_came_after()
    {
        (Organisation organisation, Device device) = await OpenAsync();
        await ReadAsync(device, 14, _ => 9.3);
        SentEvent wrong = device.Record(Some.Reading(20), Month(6).AddHours(1));
        await device.SendAsync(wrong);
        await device.SendAsync([.. Enumerable.Range(0, 450).Select(number => device.Record(Some.Reading(9.3), Month(3).AddMinutes(number)))]);
        await service.CaughtUpAsync();
        string before = await KeptAsync();

        await device.TellAsync(Correct.Withdraw(wrong.Id, Some.Reading()));
        await service.CaughtUpAsync();
        string after = await KeptAsync();

        Assert.NotEqual(before, after);
        // The same readings in a store that never saw the wrong one.
        (Organisation other, Device again) = await OpenAsync();
        await ReadAsync(again, 14, _ => 9.3);
        await service.CaughtUpAsync();
        Assert.Equal(
            (await other.Office.ReadAsync<CircuitView>(Path)).Drift!.Select(drift => (drift.Trend, drift.Visits)),
            (await organisation.Office.ReadAsync<CircuitView>(Path)).Drift!.Select(drift => (drift.Trend, drift.Visits)));

        async Task<string> KeptAsync() => (await service.QueryAsync<string>(
            $"select history from {Tables.Schema}.fl_circuit where tenant_id = '{organisation.Name}' and id = '{Some.Circuit}'")).Single();
    }

    [Fact]
    public async Task The_status_as_of_a_time_shows_the_drift_as_it_was_then()
    {
        (Organisation organisation, Device device) = await OpenAsync();
        await ReadAsync(device, 14, month => 9.3 + (0.04 * month));

        CircuitView then = await organisation.Office.ReadAsync<CircuitView>($"{Path}?asOf={Uri.EscapeDataString(Month(4).AddDays(1).ToString("O"))}");
        CircuitView before = await organisation.Office.ReadAsync<CircuitView>($"{Path}?asOf={Uri.EscapeDataString(Month(10).ToString("O"))}");

        Assert.Equal(10, Assert.Single(then.Drift!).Visits);
        Assert.Null(before.Drift);
    }

    [Fact]
    public async Task A_circuit_of_an_earlier_version_gets_its_history_with_the_next_reading()
    {
        (Organisation organisation, Device device) = await OpenAsync();
        await ReadAsync(device, 13, month => 9.3 + (0.04 * month));
        await service.QueryAsync<int>(
            $"with gone as (update {Tables.Schema}.fl_circuit set history = null where tenant_id = '{organisation.Name}' returning 1) select 1 from gone");

        await device.TellAsync(Month(13), Some.Reading(9.28));
        await service.CaughtUpAsync();

        Assert.Equal(14, Assert.Single((await organisation.Office.ReadAsync<CircuitView>(Path)).Drift!).Visits);
    }

    private async Task<(Organisation Organisation, Device Device)> OpenAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Month(20), Some.CircuitDesigned());
        return (organisation, device);
    }

    // A reading a month up to today, oldest first.
    private async Task ReadAsync(Device device, int months, Func<int, double> volts)
    {
        await device.SendAsync([.. Enumerable.Range(0, months).Select(month => device.Record(
            Some.Reading(Math.Round(volts(month) + (month % 3 * 0.01), 2)), Month(months - 1 - month)))]);
        await service.CaughtUpAsync();
    }

    private static DateTimeOffset Month(int ago) => Device.Began.AddDays(-30 * ago);

    private static async Task<List<AlertView>> AlertsAsync(Organisation organisation) =>
    [
        .. (await organisation.Office.ReadAsync<Page<AlertView>>("/v1/alerts?limit=100")).Items
            .Where(alert => alert.Finding.Rule == "reading-drifts" && alert.Standing != AlertStanding.Cleared),
    ];
}
