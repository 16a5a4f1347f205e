using FleetLight.Contracts.Calculations.Requests;

namespace FleetLight.Service.Calculations;

/// <summary>Circuits so large that work on them may take long.</summary>
internal static class HeavyCircuit
{
    private const int Parts = 1000;

    /// <summary>Whether a circuit is one.</summary>
    public static bool Is(CircuitInput circuit) => circuit.Fittings.Length + circuit.Runs.Length > Parts;
}
