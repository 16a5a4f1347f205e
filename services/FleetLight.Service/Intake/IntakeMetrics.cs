using System.Diagnostics.Metrics;
using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Intake;

/// <summary>What the intake measures of itself.</summary>
public sealed class IntakeMetrics
{
    private readonly Counter<long> facts;
    private readonly Histogram<int> batches;

    /// <summary>Makes the instruments.</summary>
    public IntakeMetrics(IMeterFactory meters)
    {
        var meter = meters.Create("FleetLight");
        facts = meter.CreateCounter<long>("fleetlight.facts", "{fact}", "Facts handed in, by outcome");
        batches = meter.CreateHistogram<int>("fleetlight.batch", "{fact}", "Facts in one batch");
    }

    /// <summary>A batch was handled.</summary>
    public void HandedIn(BatchReceipt receipt)
    {
        batches.Record(receipt.Outcomes.Count);
        facts.Add(receipt.Recorded, new KeyValuePair<string, object?>("outcome", "recorded"));
        facts.Add(receipt.Duplicates, new KeyValuePair<string, object?>("outcome", "duplicate"));
        facts.Add(receipt.Refused, new KeyValuePair<string, object?>("outcome", "refused"));
    }
}
