using System.Collections.Immutable;
using System.Text.Json.Serialization;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Calculations.Mapping;

namespace FleetLight.Record.Circuits;

/// <summary>An organisation's settings of judging, as the electrics take them.</summary>
/// <param name="Version">Counts up with every change of the settings; 0 for the defaults.</param>
/// <param name="Settings">What is not at its default.</param>
public sealed record Judging(int Version, JudgingSettings Settings)
{
    private Assumptions? assumptions;
    private DiagnosisOptions? options;
    private DecisionRule? rule;
    private MeasuringOptions? measuring;

    /// <summary>The stated defaults.</summary>
    public static Judging Default { get; } = new(0, new JudgingSettings());

    /// <summary>What is assumed where the record is silent.</summary>
    [JsonIgnore]
    public Assumptions Assumptions => assumptions ??= Electrics.Assumptions.Default with
    {
        Buried = At(Settings.BuriedCelsius, Electrics.Assumptions.Default.Buried),
        InAir = At(Settings.InAirCelsius, Electrics.Assumptions.Default.InAir),
        WarmBox = At(Settings.WarmBoxCelsius, Electrics.Assumptions.Default.WarmBox),
    };

    /// <summary>By which risks a reading is judged.</summary>
    [JsonIgnore]
    public DecisionRule Rule => rule ??= DecisionRule.Default with
    {
        GreatestRiskOfFailingGood = Settings.FalseAlarmPercent / 100 ?? DecisionRule.Default.GreatestRiskOfFailingGood,
        GreatestRiskOfPassingBad = Settings.MissedFaultPercent / 100 ?? DecisionRule.Default.GreatestRiskOfPassingBad,
        PriorAsDesigned = Settings.AsDesignedPercent / 100 ?? DecisionRule.Default.PriorAsDesigned,
        SmallestDifferencePercent = Settings.SmallestDifferencePercent,
    };

    /// <summary>What a diagnosis looks for.</summary>
    [JsonIgnore]
    public DiagnosisOptions Options => options ??= DiagnosisOptions.Default with
    {
        CatalogueWatts = Or(Settings.CatalogueWatts, DiagnosisOptions.Default.CatalogueWatts),
        DriverMilliamps = Or(Settings.DriverMilliamps, DiagnosisOptions.Default.DriverMilliamps),
        DriverVoltsDc = Or(Settings.DriverVolts, DiagnosisOptions.Default.DriverVoltsDc),
        Priors = DiagnosisMapping.Priors(Settings.Priors),
    };

    /// <summary>When to stop measuring, what measuring takes, and what a diagnosis looks for.</summary>
    [JsonIgnore]
    public MeasuringOptions Measuring => measuring ??= MeasuringOptions.Default with
    {
        EnoughProbability = Settings.StopAtPercent / 100 ?? MeasuringOptions.Default.EnoughProbability,
        Effort = MeasuringMapping.Effort(Settings.Effort),
        Diagnosis = Options,
    };

    private static AssumedTemperature At(double? celsius, AssumedTemperature stated) =>
        celsius is { } set ? stated with { Celsius = set } : stated;

    private static ImmutableArray<double> Or(double[]? set, ImmutableArray<double> stated) =>
        set is null ? stated : [.. set];
}
