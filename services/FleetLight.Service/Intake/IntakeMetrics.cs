using System.Diagnostics.Metrics;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Intake;

/// <summary>What the intake measures of itself.</summary>
public sealed class IntakeMetrics
{
    private readonly Counter<long> facts;
    private readonly Histogram<int> batches;
    private readonly Histogram<double> durations;

    /// <summary>Makes the instruments.</summary>
    public IntakeMetrics(IMeterFactory meters)
    {
        var meter = meters.Create(Measures.MeterName);
        facts = meter.CreateCounter<long>("fleetlight.facts", "{fact}", "Facts handed in, by outcome");
        batches = meter.CreateHistogram<int>("fleetlight.batch", "{fact}", "Facts in one batch", advice: Measures.Counts);
        durations = meter.CreateHistogram<double>(
            "fleetlight.intake.duration", "s", "Time to keep a batch durably, retries included", advice: Measures.Seconds);
    }

    /// <summary>A batch was handled.</summary>
    public void HandedIn(BatchReceipt receipt, TimeSpan took)
    {
        batches.Record(receipt.Outcomes.Count);
        durations.Record(took.TotalSeconds);
        facts.Add(receipt.Recorded, new KeyValuePair<string, object?>(Measures.Outcome, "recorded"));
        facts.Add(receipt.Duplicates, new KeyValuePair<string, object?>(Measures.Outcome, "duplicate"));
        facts.Add(receipt.Refused, new KeyValuePair<string, object?>(Measures.Outcome, "refused"));
    }
}
