using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Circuits;

/// <summary>A test with what was made of it.</summary>
/// <param name="Test">The newest test of its kind and side.</param>
/// <param name="View">What was made of it.</param>
public sealed record JudgedTest(Counted<TestMade> Test, TestView View);

/// <summary>What is known of a circuit but its readings, with the facts behind it: what its rules look at.</summary>
public sealed record CircuitState
{
    /// <summary>The circuit.</summary>
    public required ThingRef Subject { get; init; }

    /// <summary>The newest design.</summary>
    public Counted<CircuitDesigned>? Design { get; init; }

    /// <summary>
    /// Since when the design has been electrically as it is now; none where it has been so since the first. Readings
    /// from before the first design are judged by it, those from before a change are not.
    /// </summary>
    public DateTimeOffset? DesignChangedAt { get; init; }

    /// <summary>The newest connection of the driver.</summary>
    public Counted<DriverConnected>? Connected { get; init; }

    /// <summary>The driver as built.</summary>
    public DriverDesign? Driver { get; init; }

    /// <summary>The newest fixing of each fitting.</summary>
    public required IReadOnlyDictionary<string, Counted<FittingFixed>> Fixed { get; init; }

    /// <summary>The newest test of each kind and side.</summary>
    public required IReadOnlyList<JudgedTest> Tests { get; init; }

    /// <summary>The first energising.</summary>
    public Counted<CircuitEnergised>? FirstEnergised { get; init; }

    /// <summary>The newest energising.</summary>
    public Counted<CircuitEnergised>? LastEnergised { get; init; }

    /// <summary>The newest handover.</summary>
    public Counted<CircuitHandedOver>? HandedOver { get; init; }

    /// <summary>Faults reported and not mended since, newest report of each.</summary>
    public required IReadOnlyList<Counted<FaultReported>> OpenFaults { get; init; }

    /// <summary>The newest repair.</summary>
    public Counted<RepairMade>? LastRepair { get; init; }

    /// <summary>The first test of insulation resistance on the mains side.</summary>
    public Counted<TestMade>? FirstInsulationTest { get; init; }

    /// <summary>What it should read, where that can be said.</summary>
    public ExpectedReadings? Expected { get; init; }

    /// <summary>Why that cannot be said, where it cannot.</summary>
    public CannotExpect? Refusal { get; init; }

    /// <summary>What is not recorded of the phases up to being energised, in plain words.</summary>
    public required IReadOnlyList<string> Gaps { get; init; }

    /// <summary>The fact that says of what driver the circuit is fed.</summary>
    public string? DriverEvidence => Connected is { Data.Driver: not null } ? Connected.Key : Design?.Key;
}
