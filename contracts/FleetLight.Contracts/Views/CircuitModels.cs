using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>
/// A recorded circuit as built, in the members that calculations take: each stands as it is in the request of every
/// calculation that has a member of that name. With it, what the circuit should read is worked out anywhere, the same.
/// </summary>
public sealed record CircuitModelView
{
    /// <summary>The circuit.</summary>
    public required string Id { get; init; }

    /// <summary>The site.</summary>
    public string? SiteId { get; init; }

    /// <summary>What people call it.</summary>
    public string? Name { get; init; }

    /// <summary>Version of the models by which its status is worked out, no unit.</summary>
    public required int ModelVersion { get; init; }

    /// <summary>Version of the organisation's settings of judging, no unit; 0 while the defaults are in force.</summary>
    public required int SettingsVersion { get; init; }

    /// <summary>The circuit as built; none without a design.</summary>
    public CircuitInput? Circuit { get; init; }

    /// <summary>What is missing before it can be said what the circuit should read, in plain words; nothing where it can.</summary>
    public required IReadOnlyList<string> Missing { get; init; }

    /// <summary>What is assumed where the record is silent, in full: the stated defaults and what the organisation set.</summary>
    public required AssumptionsInput Assumptions { get; init; }

    /// <summary>By which risks readings are judged, in full.</summary>
    public required RuleInput Rule { get; init; }

    /// <summary>What a diagnosis looks for, in full.</summary>
    public required LookForInput LookFor { get; init; }

    /// <summary>Measuring ends where one explanation is at least so likely, %.</summary>
    [Quantity("%", 51, 99.99)]
    public required double EnoughPercent { get; init; }

    /// <summary>Where a meter can be put, and what it takes to get there; none without a design.</summary>
    public IReadOnlyList<PlaceInput>? Places { get; init; }

    /// <summary>Ids of boxes that mean another box of the circuit, with the id that it has here; none where there is none.</summary>
    public IReadOnlyDictionary<string, string>? BoxAliases { get; init; }
}
