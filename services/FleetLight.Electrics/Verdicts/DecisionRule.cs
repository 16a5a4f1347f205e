namespace FleetLight.Electrics;

/// <summary>
/// By which risks readings are judged (JCGM 106). The defaults are judgement of the trade, no source; an organisation
/// may state its own.
/// </summary>
/// <remarks>
/// Two kinds of circuit are held against each other. One that is as designed reads its expected value with the spread of
/// design and meter together. One that is not may read anything that driver and meter can give, each value as likely as
/// the next (<see cref="Alternative"/> has the spans), but no closer to the expected value than the smallest difference
/// that matters.
/// </remarks>
public sealed record DecisionRule
{
    /// <summary>The stated defaults.</summary>
    public static DecisionRule Default { get; } = new();

    /// <summary>
    /// Greatest risk of failing a good circuit: the probability that the reading of a circuit that is as designed is
    /// called outside. 0.000001 to 0.5.
    /// </summary>
    /// <remarks>Multiplied by the prior it is the global producer's risk of JCGM 106.</remarks>
    public double GreatestRiskOfFailingGood { get; init; } = 0.003;

    /// <summary>
    /// Greatest risk of passing a bad circuit: of the circuits that a measurement calls within, the greatest share that
    /// may not be as designed. 0.000001 to 1.
    /// </summary>
    /// <remarks>
    /// Multiplied by the probability of being called within it is the global consumer's risk of JCGM 106.
    /// </remarks>
    public double GreatestRiskOfPassingBad { get; init; } = 0.05;

    /// <summary>
    /// Probability that a circuit is as designed before anything is measured. 0.001 to 0.9999; the default is that of
    /// <see cref="FaultCatalogue.Default"/>.
    /// </summary>
    public double PriorAsDesigned { get; init; } = 0.9;

    /// <summary>
    /// The smallest difference from the expected value that matters, % of it; above 0 to 1,000. Then the risk of passing
    /// a bad circuit is that of one that is off by just so much. Null where any difference counts.
    /// </summary>
    public double? SmallestDifferencePercent { get; init; }

    /// <summary>Whether all figures are in range.</summary>
    public bool IsValid =>
        GreatestRiskOfFailingGood is >= 1e-6 and <= 0.5
        && GreatestRiskOfPassingBad is >= 1e-6 and <= 1
        && PriorAsDesigned is >= 0.001 and <= 0.9999
        && SmallestDifferencePercent is null or (> 0 and <= 1000);
}
