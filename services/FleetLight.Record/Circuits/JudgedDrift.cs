using FleetLight.Contracts.Views;

namespace FleetLight.Record.Circuits;

/// <summary>What readings or tests over months show at one place, with the facts behind it.</summary>
/// <param name="Where">The place in words.</param>
/// <param name="Key">What distinguishes the place and quantity from others on the circuit.</param>
/// <param name="View">What they show.</param>
/// <param name="Evidence">The facts that show it, as <c>source#id</c>, oldest first.</param>
public sealed record JudgedDrift(string Where, string Key, DriftView View, IReadOnlyList<string> Evidence);
