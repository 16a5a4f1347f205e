using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Serialization;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;

namespace FleetLight.Service.Circuits;

/// <summary>
/// The state of a circuit, as a document: its newest readings, and what is listed and found. It is small, because it is
/// written again with every reading; what follows from the other facts stands beside it in <see cref="BasisDocument"/>.
/// What is shown is judged from both whenever it is read.
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

    /// <summary>Stamp of the basis on which it was judged.</summary>
    public required string BasisStamp { get; set; }

    /// <summary>Its newest readings.</summary>
    [JsonConverter(typeof(WindowConverter))]
    public required ReadingWindow Window { get; set; }

    /// <summary>What the rules found.</summary>
    public required IReadOnlyList<Finding> Findings { get; set; }

    /// <summary>As it stands in a list.</summary>
    public required CircuitLine Line { get; set; }

    /// <summary>What is kept of a circuit with that judged state.</summary>
    public static CircuitDocument Of(CircuitView view, StampedBasis basis, ReadingWindow window) => new()
    {
        Id = view.Id,
        SiteId = view.SiteId,
        Phase = view.Phase,
        Verdict = view.Verdict,
        BasisStamp = basis.Stamp,
        Window = window,
        Findings = view.Findings,
        Line = CircuitLines.Of(basis.Basis, view),
    };
}

/// <summary>What follows for a circuit from every fact but its readings, as a document. It is written when these change.</summary>
public sealed class BasisDocument
{
    /// <summary>The circuit.</summary>
    public required string Id { get; set; }

    /// <summary>Its site.</summary>
    public string? SiteId { get; set; }

    /// <summary>What follows from the facts.</summary>
    public required CircuitBasis Basis { get; set; }

    /// <summary>Stamp of the basis.</summary>
    public required string Stamp { get; set; }
}

/// <summary>A basis with the stamp that follows from what it says: the same stamp is the same basis, wherever it is kept.</summary>
/// <param name="Basis">The basis.</param>
/// <param name="Stamp">Its stamp.</param>
public sealed record StampedBasis(CircuitBasis Basis, string Stamp)
{
    /// <summary>The basis with its stamp.</summary>
    public static StampedBasis Of(CircuitBasis basis) =>
        new(basis, Convert.ToHexStringLower(SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(basis, WireJson.Lenient)).AsSpan(0, 12)));
}
