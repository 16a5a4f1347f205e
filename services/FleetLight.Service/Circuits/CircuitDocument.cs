using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Service.Circuits;

/// <summary>
/// The state of a circuit, as a document: what follows from its facts, and its newest readings. What is shown is judged
/// from both whenever it is read, so it is kept once only.
/// </summary>
public sealed class CircuitDocument
{
    /// <summary>The circuit.</summary>
    public required string Id { get; set; }

    /// <summary>Its site.</summary>
    public string? SiteId { get; set; }

    /// <summary>The phase reached.</summary>
    public required CircuitPhase Phase { get; set; }

    /// <summary>The verdict.</summary>
    public required CircuitVerdict Verdict { get; set; }

    /// <summary>What follows from its facts.</summary>
    public required CircuitBasis Basis { get; set; }

    /// <summary>Its newest readings.</summary>
    public required ReadingWindow Window { get; set; }

    /// <summary>What the rules found.</summary>
    public required IReadOnlyList<Finding> Findings { get; set; }

    /// <summary>As it stands in a list.</summary>
    public required CircuitLine Line { get; set; }

    /// <summary>What is kept of a circuit with that judged state.</summary>
    public static CircuitDocument Of(CircuitView view, CircuitBasis basis, ReadingWindow window) => new()
    {
        Id = view.Id,
        SiteId = view.SiteId,
        Phase = view.Phase,
        Verdict = view.Verdict,
        Basis = basis,
        Window = window,
        Findings = view.Findings,
        Line = CircuitLines.Of(basis, view),
    };
}
