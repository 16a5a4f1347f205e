using System.Diagnostics.Metrics;
using FleetLight.Contracts.Views;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Health;

/// <summary>What stands in the store at a moment, whichever node put it there.</summary>
public sealed record StoreSample
{
    /// <summary>Events that the projection has still to take in.</summary>
    public required long Behind { get; init; }

    /// <summary>Age of the oldest of them, s; 0 where there are none.</summary>
    public required double BehindSeconds { get; init; }

    /// <summary>Events that the projection could not read and passed over.</summary>
    public required long Unread { get; init; }

    /// <summary>Alerts that stand, by severity.</summary>
    public required IReadOnlyDictionary<AlertSeverity, long> Alerts { get; init; }

    /// <summary>Deliveries that wait.</summary>
    public required long Waiting { get; init; }

    /// <summary>Deliveries that are parked.</summary>
    public required long Parked { get; init; }

    /// <summary>Age of the oldest delivery that waits, s; 0 where there are none.</summary>
    public required double WaitingSeconds { get; init; }
}

/// <summary>
/// Shows the newest sample of the store. Every node shows the same, so one takes the greatest, not the sum; while the store
/// cannot be asked nothing is shown, for an old figure would pass for a new one.
/// </summary>
public sealed class StoreGauges
{
    private volatile StoreSample? newest;

    /// <summary>Makes the instruments.</summary>
    public StoreGauges(IMeterFactory meters)
    {
        var meter = meters.Create(Measures.MeterName);
        meter.CreateObservableGauge("fleetlight.projection.behind", () => One(each => each.Behind), "{event}", "Events still to be projected");
        meter.CreateObservableGauge("fleetlight.projection.behind.age", () => One(each => each.BehindSeconds), "s", "Age of the oldest event still to be projected");
        meter.CreateObservableGauge("fleetlight.events.unread", () => One(each => each.Unread), "{event}", "Events that the projection could not read and passed over");
        meter.CreateObservableGauge("fleetlight.alerts", Alerts, "{alert}", "Alerts that stand, by severity");
        meter.CreateObservableGauge("fleetlight.deliveries", Deliveries, "{delivery}", "Deliveries that wait or are parked");
        meter.CreateObservableGauge("fleetlight.deliveries.age", () => One(each => each.WaitingSeconds), "s", "Age of the oldest delivery that waits");
    }

    /// <summary>Shows that sample from now on; none where the store cannot be asked.</summary>
    public void Show(StoreSample? sample) => newest = sample;

    private Measurement<T>[] One<T>(Func<StoreSample, T> value) where T : struct => newest is { } sample ? [new(value(sample))] : [];

    private IEnumerable<Measurement<long>> Alerts() => newest is not { } sample
        ? []
        : Enum.GetValues<AlertSeverity>().Select(severity => Of(
            sample.Alerts.GetValueOrDefault(severity), "fleetlight.alert.severity", severity.ToString().ToLowerInvariant()));

    private Measurement<long>[] Deliveries() => newest is not { } sample
        ? []
        : [Of(sample.Waiting, "fleetlight.delivery.state", "waiting"), Of(sample.Parked, "fleetlight.delivery.state", "parked")];

    private static Measurement<long> Of(long value, string attribute, string word) => new(value, new KeyValuePair<string, object?>(attribute, word));
}
