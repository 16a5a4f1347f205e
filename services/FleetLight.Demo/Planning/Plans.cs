using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Demo.Planning;

/// <summary>A duct as it is to be laid.</summary>
/// <param name="Laid">The fact that says so.</param>
/// <param name="Label">What its label says.</param>
internal sealed record DuctPlan(DuctLaid Laid, string Label)
{
    /// <summary>The duct.</summary>
    public string Id => Laid.DuctId;
}

/// <summary>A box as it is to be set.</summary>
/// <param name="Id">The box.</param>
/// <param name="Lie">How it lies.</param>
/// <param name="Entry">How its cables enter.</param>
/// <param name="At">Where it is.</param>
internal sealed record BoxPlan(string Id, BoxLie Lie, BoxEntry Entry, Spot At);

/// <summary>A run of cable as it is to be pulled, and the box at its far end.</summary>
/// <param name="Design">The run by the design; its place <c>To</c> is a fitting, or the box where there is none.</param>
/// <param name="PulledMetres">Length of cable pulled, m.</param>
/// <param name="Ducts">The ducts that it passes, from the supply.</param>
/// <param name="SpareCore">Whether the cable has a third core, free for later use.</param>
/// <param name="Box">The box at its far end.</param>
internal sealed record RunPlan(RunDesign Design, double PulledMetres, IReadOnlyList<DuctPlan> Ducts, bool SpareCore, BoxPlan Box)
{
    /// <summary>The cable.</summary>
    public string CableId => Design.CableId!;

    /// <summary>The duct of its own, which no other circuit shares.</summary>
    public DuctPlan OwnDuct => Ducts[^1];
}

/// <summary>A circuit as it is to be built.</summary>
/// <param name="Design">Its design.</param>
/// <param name="Runs">Its runs, each after the one that feeds it.</param>
/// <param name="Role">What it plays in the demo.</param>
internal sealed record CircuitPlan(CircuitDesigned Design, IReadOnlyList<RunPlan> Runs, Role Role)
{
    /// <summary>The circuit.</summary>
    public string Id => Design.CircuitId;

    /// <summary>The run in the middle, where what is planted on ducts, boxes and cables is planted.</summary>
    public RunPlan Chosen => Runs[Runs.Count / 2];

    /// <summary>Where a planted wrong or broken fitting stands: in the middle of the circuit.</summary>
    public FittingDesign ChosenFitting => Design.Fittings[Design.Fittings.Length / 2];
}

/// <summary>A site as it is to be built.</summary>
/// <param name="Opened">The fact that opens it.</param>
/// <param name="Crew">Who works there.</param>
/// <param name="Starts">First day of work.</param>
/// <param name="Cabinet">Where the drivers are.</param>
/// <param name="Trunk">The duct from the cabinet that all its circuits share.</param>
/// <param name="Spare">A duct laid for later.</param>
/// <param name="Circuits">Its circuits.</param>
internal sealed record SitePlan(
    SiteOpened Opened, Crew Crew, DateTimeOffset Starts, Spot Cabinet, DuctPlan Trunk, DuctPlan Spare, IReadOnlyList<CircuitPlan> Circuits)
{
    /// <summary>The site.</summary>
    public string Id => Opened.SiteId;
}
