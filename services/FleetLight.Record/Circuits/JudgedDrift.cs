using FleetLight.Contracts.Views;

namespace FleetLight.Record.Circuits;

/// <summary>What readings over months show at one place, with the facts behind it.</summary>
/// <param name="Newest">The newest of the readings.</param>
/// <param name="Node">The place by the name that the electrics know.</param>
/// <param name="View">What they show.</param>
/// <param name="Evidence">The readings that show it, as <c>source#id</c>, oldest first.</param>
public sealed record JudgedDrift(ReadingEntry Newest, string Node, DriftView View, IReadOnlyList<string> Evidence);
