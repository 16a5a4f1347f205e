using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Reporting;

/// <summary>A refused fact as the office sees it.</summary>
/// <param name="Source">The device.</param>
/// <param name="FactId">The fact.</param>
/// <param name="Problem">Why it was refused.</param>
internal sealed record RefusedLine(string Source, string? FactId, Problem Problem);

/// <summary>What the service says of the fleet once it has caught up.</summary>
internal sealed record Answers
{
    /// <summary>Every circuit in a line.</summary>
    public required IReadOnlyDictionary<string, CircuitLine> Circuits { get; init; }

    /// <summary>The circuits with something planted, whole.</summary>
    public required IReadOnlyDictionary<string, CircuitView> Planted { get; init; }

    /// <summary>The alerts that stand.</summary>
    public required IReadOnlyList<AlertView> Alerts { get; init; }

    /// <summary>What the service has of each device.</summary>
    public required IReadOnlyDictionary<Device, Receipt> Receipts { get; init; }

    /// <summary>The facts that were set aside.</summary>
    public required IReadOnlyList<RefusedLine> Refused { get; init; }

    /// <summary>Whether the service had caught up with the facts when it was asked.</summary>
    public required bool CaughtUp { get; init; }
}
