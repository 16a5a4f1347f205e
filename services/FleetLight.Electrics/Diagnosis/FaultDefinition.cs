using System.Collections.Immutable;
using System.Text.Json.Serialization;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>
/// One entry of a catalogue of faults: how common it is, what it changes in a circuit, and what to tell an installer.
/// </summary>
/// <param name="Kind">Its kind; <see cref="FaultKind.OwnDefinition"/> for one that a caller adds.</param>
/// <param name="Title">Its name in a few words.</param>
/// <param name="Prior">
/// How common it is on a circuit before anything is measured, relative to the other entries; above 0 to 1. That of the
/// default catalogue is judgement of the trade, no source.
/// </param>
public sealed record FaultDefinition(FaultKind Kind, string Title, double Prior)
{
    /// <summary>The kinds of drive that it occurs on.</summary>
    public ImmutableArray<DriveKind> Drives { get; init; } = [DriveKind.ConstantCurrent, DriveKind.ConstantVoltage];

    /// <summary>What else would show on any circuit, in words.</summary>
    public string AlsoShows { get; init; } = "";

    /// <summary>What else would show in a series loop.</summary>
    public string AlsoShowsInSeries { get; init; } = "";

    /// <summary>What else would show on constant voltage.</summary>
    public string AlsoShowsInParallel { get; init; } = "";

    /// <summary>What to do about it, safely.</summary>
    public string WhatToDo { get; init; } = "";

    /// <summary>
    /// The ways and places in which a circuit can have it. Their shares of the prior need not sum to 1; they are scaled.
    /// </summary>
    [JsonIgnore]
    public Func<FaultScope, IEnumerable<FaultCase>> Cases { get; init; } = _ => [];

    /// <summary>What is wrong and where, in a sentence; the title where not set.</summary>
    [JsonIgnore]
    public Func<FaultFinding, string>? Says { get; init; }

    /// <summary>What else would show on a circuit of a kind of drive.</summary>
    /// <param name="drive">The kind of drive.</param>
    public string AlsoShowsOn(DriveKind drive) => string.Join(
        ' ',
        new[] { AlsoShows, drive == DriveKind.ConstantCurrent ? AlsoShowsInSeries : AlsoShowsInParallel }
            .Where(text => !string.IsNullOrEmpty(text)));
}

/// <summary>One way or place in which a circuit can have a fault.</summary>
/// <param name="Share">Its share of the fault's prior, relative to the other cases; above 0.</param>
public sealed record FaultCase(double Share)
{
    /// <summary>How the circuit differs from its record, where no figure is free.</summary>
    public ImmutableArray<CircuitChange> Changes { get; init; } = [];

    /// <summary>The figure that is not known beforehand; null where none.</summary>
    public FreeFigure? Free { get; init; }

    /// <summary>The figure that belongs to the case, where it is known; NaN where none.</summary>
    public double Figure { get; init; } = double.NaN;

    /// <summary>What the figure, free or known, is.</summary>
    public FigureMeaning Meaning { get; init; }

    /// <summary>The fittings that it may be, by index; one of them, or all of a pair.</summary>
    public ImmutableArray<int> Fittings { get; init; } = [];

    /// <summary>The runs that it may be, by index; one of them.</summary>
    public ImmutableArray<int> Runs { get; init; } = [];

    /// <summary>The nodes that it may be at; one of them.</summary>
    public ImmutableArray<string> Nodes { get; init; } = [];

    /// <summary>
    /// For a slip of the meter: the one reading that it touches, by index among those used; −1 for all of its quantity.
    /// </summary>
    public int Reading { get; init; } = -1;

    /// <summary>
    /// What tells it from other cases of the same fault, where that is more than place and figure; cases with different
    /// variants are not merged.
    /// </summary>
    public string Variant { get; init; } = "";
}

/// <summary>A figure of a fault that is not known beforehand, with its spread before anything is measured.</summary>
/// <param name="Least">The least it may be; above 0 where it is logarithmic.</param>
/// <param name="Most">The greatest it may be; above <paramref name="Least"/>.</param>
/// <param name="IsLogarithmic">
/// Whether its logarithm is spread evenly over the range; otherwise the figure itself is.
/// </param>
/// <param name="ChangesAt">How the circuit differs from its record at a figure.</param>
public sealed record FreeFigure(
    double Least, double Most, bool IsLogarithmic, Func<double, ImmutableArray<CircuitChange>> ChangesAt)
{
    /// <summary>The figure below which a share of the prior lies.</summary>
    /// <param name="share">0 to 1.</param>
    public double At(double share) => IsLogarithmic
        ? Least * Math.Pow(Most / Least, share)
        : Least + ((Most - Least) * share);

    internal bool IsValid => double.IsFinite(Least) && double.IsFinite(Most) && Least < Most
        && (!IsLogarithmic || Least > 0);
}

/// <summary>What the figure of a fault is, and so its unit.</summary>
public enum FigureMeaning
{
    /// <summary>There is none, or it has no name here.</summary>
    None,

    /// <summary>The wattage that a fitting has, W.</summary>
    Watts,

    /// <summary>The resistance of a joint, Ω.</summary>
    JointOhms,

    /// <summary>The resistance between the cores, Ω.</summary>
    LeakOhms,

    /// <summary>The length of a cable as a multiple of the recorded one.</summary>
    LengthFactor,

    /// <summary>The conductor area of a cable, mm².</summary>
    AreaSquareMillimetres,

    /// <summary>The driver's output, mA for constant current and V for constant voltage.</summary>
    DriverOutput,

    /// <summary>What was written down as a multiple of what is there.</summary>
    MeterFactor,

    /// <summary>A voltage that a fitting is made for or keeps, V.</summary>
    FittingVolts,
}
