using System.Security.Cryptography;
using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;

namespace FleetLight.Service.Circuits;

/// <summary>A basis with the stamp that follows from what it says: the same stamp is the same basis, wherever it is kept.</summary>
/// <param name="Basis">The basis.</param>
/// <param name="Stamp">Its stamp.</param>
public sealed record StampedBasis(CircuitBasis Basis, string Stamp)
{
    /// <summary>The basis with its stamp.</summary>
    public static StampedBasis Of(CircuitBasis basis) =>
        new(basis, Convert.ToHexStringLower(SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(basis, WireJson.Lenient)).AsSpan(0, 12)));
}
