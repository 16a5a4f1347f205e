using System.Security.Cryptography;
using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Electrics;

namespace FleetLight.Record.Circuits;

/// <summary>Tells in short what the readings of a circuit are judged on.</summary>
internal static class JudgedOn
{
    /// <summary>The same text for the same circuit as built, the same repair and change of design, the same settings.</summary>
    public static string Of(CircuitModel? model, CircuitState state, Judging? judging)
    {
        var ground = new Ground(model, state.LastRepair?.At, state.DesignChangedAt, judging?.Version ?? 0);
        var hash = SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(ground, WireJson.Lenient));
        return Convert.ToHexStringLower(hash.AsSpan(0, 6));
    }

    private sealed record Ground(
        CircuitModel? Model, DateTimeOffset? RepairedAt, DateTimeOffset? DesignChangedAt, int Judging);
}
