using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Circuits;

/// <summary>Makes the line of a circuit in lists.</summary>
public static class CircuitLines
{
    /// <summary>The line.</summary>
    /// <param name="basis">Its basis, for what is open on the things it leans on.</param>
    /// <param name="view">Its state.</param>
    public static CircuitLine Of(CircuitBasis basis, CircuitView view)
    {
        var volts = view.Expected.FirstOrDefault(IsDriverVolts);
        var read = view.LastReadings.FirstOrDefault(reading =>
            reading is { Place: ReadingPlaceKind.Driver, Quantity: ReadingQuantity.VoltsDc });
        return new CircuitLine
        {
            Id = view.Id,
            SiteId = view.SiteId,
            Name = view.Name,
            Drive = view.Drive,
            Phase = view.Phase,
            Verdict = view.Verdict,
            ExpectedVolts = volts?.Expected,
            LastVolts = read?.Value,
            LastReadAt = view.LastReadings.Count == 0 ? null : view.LastReadings[0].HappenedAt,
            Rules =
            [
                .. view.Findings.Select(finding => finding.Rule).Concat(basis.OpenPoints)
                    .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal),
            ],
        };
    }

    private static bool IsDriverVolts(ExpectedReading reading) =>
        reading is { Place: ReadingPlaceKind.Driver, Quantity: ReadingQuantity.VoltsDc };
}
