using FleetLight.Contracts.Wire;
using FleetLight.Record.Files;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Intake;

/// <summary>Tells of each batch in the log and in the measures.</summary>
public sealed class IntakeTelling(IntakeMetrics metrics, ILogger<DeviceDesk> log)
{
    /// <summary>A batch was handled.</summary>
    public void HandedIn(string organisation, string source, BatchReceipt receipt, TimeSpan took)
    {
        metrics.HandedIn(receipt, took);
        if (!log.IsEnabled(LogLevel.Information)) return;
        ServiceLog.OfFacts(log, [.. RecordedIds(source, receipt.Outcomes)], () => log.LogInformation(
            "Batch from {Source} of {Organisation}: {Recorded} recorded, {Duplicates} known, {Refused} refused, complete through {CompleteThrough}",
            source, organisation, receipt.Recorded, receipt.Duplicates, receipt.Refused, receipt.Receipt.CompleteThrough));
    }

    /// <summary>The facts that were recorded now, as <c>source#id</c>.</summary>
    public static IEnumerable<string> RecordedIds(string source, IEnumerable<EventOutcome> outcomes) =>
        outcomes.Where(each => each.Outcome == FactOutcome.Recorded).Select(each => FactKey.Of(source, each.Id!));
}
