using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Service.Circuits;

/// <summary>Makes what is kept and listed of a circuit from its judged state.</summary>
public static class CircuitLines
{
    /// <summary>The document of a circuit.</summary>
    public static CircuitDocument Document(CircuitView view, CircuitBasis basis, ReadingWindow window) => new()
    {
        Id = view.Id,
        SiteId = view.SiteId,
        Phase = view.Phase,
        Verdict = view.Verdict,
        Basis = basis,
        Window = window,
        Findings = view.Findings,
        Line = Line(view, basis),
    };

    private static CircuitLine Line(CircuitView view, CircuitBasis basis)
    {
        var last = view.LastReadings.FirstOrDefault(reading =>
            reading.Place == ReadingPlaceKind.Driver && reading.Quantity == ReadingQuantity.VoltsDc);
        return new CircuitLine
        {
            Id = view.Id,
            SiteId = view.SiteId,
            Name = view.Name,
            Drive = view.Drive,
            Phase = view.Phase,
            Verdict = view.Verdict,
            ExpectedVolts = view.Expected.FirstOrDefault(expected =>
                expected.Place == ReadingPlaceKind.Driver && expected.Quantity == ReadingQuantity.VoltsDc)?.Expected,
            LastVolts = last?.Value,
            LastReadAt = view.LastReadings.Count > 0 ? view.LastReadings[0].HappenedAt : null,
            Rules = [.. view.Findings.Select(finding => finding.Rule).Concat(basis.OpenPoints).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)],
        };
    }
}
