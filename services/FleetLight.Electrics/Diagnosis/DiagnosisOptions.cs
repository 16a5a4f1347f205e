using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace FleetLight.Electrics;

/// <summary>What a diagnosis looks for. The defaults are common practice, no source.</summary>
public sealed record DiagnosisOptions
{
    /// <summary>How many other drivers are looked at.</summary>
    internal const int MostDrivers = 16;

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

    /// <summary>
    /// How common faults are before anything is measured, relative to the others, where that differs from
    /// <see cref="FaultCatalogue.Default"/>; above 0 to 1, and 0 for one that is not looked for. Anything else leaves the
    /// default, and "none of these" is always looked for.
    /// </summary>
    public ImmutableDictionary<FaultKind, double> Priors { get; init; } = ImmutableDictionary<FaultKind, double>.Empty;

    /// <summary>Faults that the caller knows on top of the catalogue's.</summary>
    [JsonIgnore]
    public ImmutableArray<FaultDefinition> MoreFaults { get; init; } = [];

    /// <summary>How common a fault is taken to be.</summary>
    internal double PriorOf(FaultDefinition fault)
    {
        if (fault.Kind == FaultKind.OwnDefinition || Priors is null || !Priors.TryGetValue(fault.Kind, out var prior))
            prior = fault.Prior;
        // Without "none of these" nothing would be left where every other explanation is impossible.
        var least = fault.Kind == FaultKind.NoneOfThese ? double.Epsilon : 0;
        if (prior >= least && prior <= 1) return prior;
        return fault.Prior is > 0 and <= 1 ? fault.Prior : 0;
    }
}
