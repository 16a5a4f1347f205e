using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Handover;

/// <summary>How often things are looked after, months (common practice, no source). Each may be set otherwise.</summary>
public sealed record HandoverIntervals
{
    /// <summary>The stated defaults.</summary>
    public static HandoverIntervals Default { get; } = new();

    /// <summary>From one look after dark to the next, months, 1 to 240.</summary>
    [Quantity("1", 1, 240)]
    public int LookMonths { get; init; } = 6;

    /// <summary>From one reading at the driver to the next, months, 1 to 240.</summary>
    [Quantity("1", 1, 240)]
    public int ReadMonths { get; init; } = 12;

    /// <summary>From one look into boxes to the next, months, 1 to 240.</summary>
    [Quantity("1", 1, 240)]
    public int BoxMonths { get; init; } = 12;

    /// <summary>From one look at duct ends to the next, months, 1 to 240.</summary>
    [Quantity("1", 1, 240)]
    public int DuctMonths { get; init; } = 24;

    /// <summary>From one test of the insulation of buried cables to the next, months, 1 to 240.</summary>
    [Quantity("1", 1, 240)]
    public int InsulationMonths { get; init; } = 36;

    /// <summary>From one press of the test button of the residual current device to the next, months, 1 to 240.</summary>
    [Quantity("1", 1, 240)]
    public int ButtonMonths { get; init; } = 6;

    /// <summary>From one inspection of the mains side to the next, months, 1 to 240; local rules may ask for less.</summary>
    [Quantity("1", 1, 240)]
    public int MainsMonths { get; init; } = 60;
}
