using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>What a diagnosis looks for. The defaults are common practice, no source.</summary>
public sealed record DiagnosisOptions
{
    /// <summary>The stated defaults.</summary>
    public static DiagnosisOptions Default { get; } = new();

    /// <summary>
    /// Wattages that fittings on the crew's van may have, W; those of the circuit are added. At most 64 are used.
    /// </summary>
    public ImmutableArray<double> CatalogueWatts { get; init; } = [1.0, 1.6, 2.0, 2.6, 3.2, 4.2];

    /// <summary>Output currents that a constant-current driver may have by mistake, mA. At most 16 are used.</summary>
    public ImmutableArray<double> DriverMilliamps { get; init; } = [350, 500, 700];

    /// <summary>
    /// Output voltages that a constant-voltage driver may have by mistake, V DC. At most 16 are used.
    /// </summary>
    public ImmutableArray<double> DriverVoltsDc { get; init; } = [12, 24, 48];

    /// <summary>How common each fault is before anything is measured.</summary>
    public FaultPriors Priors { get; init; } = FaultPriors.Default;
}

/// <summary>
/// How common each fault is on a circuit before anything is measured, relative to the others; above 0 to 1.
/// Judgement of the trade, no source.
/// </summary>
public sealed record FaultPriors
{
    /// <summary>The stated defaults.</summary>
    public static FaultPriors Default { get; } = new();

    /// <summary>Nothing is wrong.</summary>
    public double AsDesigned { get; init; } = 0.9;

    /// <summary>One fitting of another wattage from the catalogue.</summary>
    public double FittingOfOtherWattage { get; init; } = 0.03;

    /// <summary>One fitting of a wattage that is in no catalogue.</summary>
    public double FittingOfUnknownWattage { get; init; } = 0.003;

    /// <summary>One fitting shorted.</summary>
    public double FittingShorted { get; init; } = 0.004;

    /// <summary>One fitting missing.</summary>
    public double FittingMissing { get; init; } = 0.012;

    /// <summary>One fitting too many.</summary>
    public double OneFittingTooMany { get; init; } = 0.008;

    /// <summary>One fitting reversed.</summary>
    public double FittingReversed { get; init; } = 0.008;

    /// <summary>The path is broken.</summary>
    public double OpenLoop { get; init; } = 0.015;

    /// <summary>A driver of another output.</summary>
    public double WrongDriverOutput { get; init; } = 0.008;

    /// <summary>A joint of high resistance.</summary>
    public double HighResistanceJoint { get; init; } = 0.01;

    /// <summary>Cable longer or shorter than recorded.</summary>
    public double CableLength { get; init; } = 0.01;

    /// <summary>Driver at its limit.</summary>
    public double DriverAtLimit { get; init; } = 0.004;

    /// <summary>Cores touching.</summary>
    public double ShortBetweenCores { get; init; } = 0.004;

    /// <summary>Driver without output.</summary>
    public double DriverNoOutput { get; init; } = 0.004;

    /// <summary>Something that is not in the catalogue.</summary>
    public double NoneOfThese { get; init; } = 0.003;
}
