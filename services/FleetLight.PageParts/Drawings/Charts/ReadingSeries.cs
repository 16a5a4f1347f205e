using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Views;

namespace FleetLight.PageParts.Drawings.Charts;

/// <summary>A reading of a series.</summary>
/// <param name="At">When.</param>
/// <param name="Value">What, in the unit of the series.</param>
/// <param name="Verdict">What it says.</param>
/// <param name="Expected">What it should have been; none where that cannot be said.</param>
public sealed record SeriesReading(DateTimeOffset At, double Value, CircuitVerdict Verdict, ExpectedValue? Expected = null);

/// <summary>A level that is drawn across: a limit, or a control limit.</summary>
/// <param name="Value">Where, in the unit of the series.</param>
/// <param name="Says">What it is, in few words.</param>
/// <param name="Control">Whether it is a control limit, between which readings scatter; else a limit that must not be passed.</param>
public sealed record SeriesLevel(double Value, string Says, bool Control = false);

/// <summary>Something that happened to the circuit: a repair, a change of its design.</summary>
/// <param name="At">When.</param>
/// <param name="Says">What, in few words.</param>
public sealed record SeriesEvent(DateTimeOffset At, string Says);

/// <summary>The readings of one quantity at one place over time, and what they are held against.</summary>
public sealed record ReadingSeries
{
    /// <summary>What and where, for instance <c>Volts at the driver</c>.</summary>
    public required string Title { get; init; }

    /// <summary>What is read, and so the unit.</summary>
    public required MeasuredAs Quantity { get; init; }

    /// <summary>The readings in any order.</summary>
    public required IReadOnlyList<SeriesReading> Readings { get; init; }

    /// <summary>Levels.</summary>
    public IReadOnlyList<SeriesLevel> Levels { get; init; } = [];

    /// <summary>Events.</summary>
    public IReadOnlyList<SeriesEvent> Events { get; init; } = [];
}
