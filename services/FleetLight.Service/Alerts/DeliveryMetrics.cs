using System.Diagnostics.Metrics;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Alerts;

/// <summary>What the deliveries measure of themselves.</summary>
public sealed class DeliveryMetrics
{
    private readonly Histogram<double> durations;

    /// <summary>Makes the instruments.</summary>
    public DeliveryMetrics(IMeterFactory meters) => durations = meters.Create(Measures.MeterName).CreateHistogram<double>(
        "fleetlight.delivery.duration", "s", "Attempts to deliver, by how they ended: delivered, failed or parked", advice: Measures.Seconds);

    /// <summary>An attempt has ended.</summary>
    public void Tried(DeliveryState state, TimeSpan took) =>
        durations.Record(took.TotalSeconds, new KeyValuePair<string, object?>(Measures.Outcome, OutcomeOf(state)));

    /// <summary>How an attempt ended, in a word.</summary>
    public static string OutcomeOf(DeliveryState state) => state switch
    {
        DeliveryState.Delivered => "delivered",
        DeliveryState.Parked => "parked",
        _ => "failed",
    };
}
