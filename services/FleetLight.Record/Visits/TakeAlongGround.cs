using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Visits;

/// <summary>What is known of the things that a visit's alerts are about, by id. What is not there is not known.</summary>
/// <param name="Circuits">Circuits with what explains their readings.</param>
/// <param name="Designs">The same circuits as built.</param>
/// <param name="Ducts">Ducts.</param>
/// <param name="Cables">Cables.</param>
/// <param name="Boxes">Boxes, those of the circuits among them.</param>
public sealed record TakeAlongGround(
    IReadOnlyDictionary<string, CircuitView> Circuits,
    IReadOnlyDictionary<string, CircuitInput> Designs,
    IReadOnlyDictionary<string, DuctView> Ducts,
    IReadOnlyDictionary<string, CableView> Cables,
    IReadOnlyDictionary<string, BoxView> Boxes)
{
    /// <summary>Nothing is known.</summary>
    public static TakeAlongGround Empty { get; } = new(
        new Dictionary<string, CircuitView>(), new Dictionary<string, CircuitInput>(), new Dictionary<string, DuctView>(),
        new Dictionary<string, CableView>(), new Dictionary<string, BoxView>());
}
