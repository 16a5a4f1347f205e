using System.Security.Cryptography;
using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;

namespace FleetLight.Service.Circuits;

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
