using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// The judgement of several readings of one circuit together. They share what is uncertain about the circuit, so that
/// readings that are each within may contradict one another, and many that are each somewhat off may agree. Advice, never a
/// certificate.
/// </summary>
/// <param name="Kind">The judgement of all together; never better than that of a minimum that is not reached.</param>
/// <param name="Reason">Why, for programs.</param>
/// <param name="Text">Why, in plain words.</param>
public sealed record JointVerdict(VerdictKind Kind, VerdictReason Reason, string Text)
{
    /// <summary>Each reading on its own, in the order given.</summary>
    public ImmutableArray<Verdict> Each { get; init; } = [];

    /// <summary>How many places and quantities were compared together; repeated readings count once.</summary>
    public int Compared { get; init; }

    /// <summary>
    /// Squared Mahalanobis distance of the readings from what a circuit as designed should read, with design and meters
    /// together; null where fewer than two were compared.
    /// </summary>
    public double? SquaredDistance { get; init; }

    /// <summary>
    /// Of circuits that are as designed, the share whose readings would lie farther off, 0 to 1. Outside where it is below the
    /// rule's risk of failing a good circuit, which so holds for the set and not for each reading.
    /// </summary>
    public double? ShareFartherOff { get; init; }

    /// <summary>
    /// Probability that the circuit is as designed, given all readings and the rule's prior. The alternative is that one of
    /// them, whichever, may be anything in its span while the others are as they should be.
    /// </summary>
    public double? ProbabilityAsDesigned { get; init; }

    /// <summary>Risk of failing a good circuit: probability that the set is called outside though all is as designed.</summary>
    public double? RiskOfFailingGood { get; init; }

    /// <summary>
    /// Index of the reading that fits least with the others and the design; null where fewer than two were compared.
    /// </summary>
    public int? LeastFitting { get; init; }
}
