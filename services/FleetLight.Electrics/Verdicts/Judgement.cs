namespace FleetLight.Electrics;

/// <summary>The limits that a decision rule sets for one measurement, and what it says of a reading.</summary>
internal readonly struct Judgement
{
    private const double Coverage = 0.95;

    private readonly Spread spread;
    private readonly Alternative alternative;
    private readonly double prior;
    private readonly double risk;
    private readonly bool acceptsNothing;

    /// <param name="spread">How readings of a circuit as designed are spread, design and meter together.</param>
    /// <param name="alternative">What a circuit may read that is not.</param>
    /// <param name="rule">The rule, in range.</param>
    /// <param name="degreesOfFreedom">
    /// Effective degrees of freedom of the spread, infinite where it rests on no scatter of few readings.
    /// </param>
    public Judgement(Spread spread, Alternative alternative, DecisionRule rule, double degreesOfFreedom)
    {
        this.alternative = alternative;
        prior = rule.PriorAsDesigned;
        risk = rule.GreatestRiskOfFailingGood;
        var widening = Student.Widening(Coverage, degreesOfFreedom);
        this.spread = spread.Widened(widening);
        Half95 = spread.Half(Coverage) * widening;
        Reject = spread.Half(1 - risk) * Student.Widening(1 - risk, degreesOfFreedom);
        Accept = Math.Min(Half95, Reject);
        RiskOfPassingBad = Passed(Accept, Math.Max(1 - Coverage, risk));
        if (RiskOfPassingBad <= rule.GreatestRiskOfPassingBad) return;
        Accept = Guarded(Accept, rule.GreatestRiskOfPassingBad);
        acceptsNothing = !(Accept > 0);
        RiskOfPassingBad = acceptsNothing ? 0 : Passed(Accept, this.spread.Beyond(Accept));
    }

    /// <summary>Half the 95 % interval of design and meter.</summary>
    public double Half95 { get; }

    /// <summary>Readings off by no more are within; zero where the measurement is too coarse for any to be.</summary>
    public double Accept { get; }

    /// <summary>Readings off by more are outside.</summary>
    public double Reject { get; }

    public VerdictKind Kind(double off) => Math.Abs(off) <= Accept && !acceptsNothing ? VerdictKind.Within
        : Math.Abs(off) <= Reject ? VerdictKind.Doubtful
        : VerdictKind.Outside;

    /// <summary>Probability that the circuit is as designed, given the reading (Bayes).</summary>
    public double ProbabilityAsDesigned(double off)
    {
        var good = prior * spread.Density(off);
        return double.IsInfinity(good) ? 1 : good / (good + ((1 - prior) * alternative.Density(off, spread)));
    }

    /// <summary>Of the circuits that the rule calls within, the share that is not as designed.</summary>
    public double RiskOfPassingBad { get; }

    /// <summary>Probability that a circuit that is as designed is called outside.</summary>
    public double RiskOfFailingGood => spread.StandardUncertainty > 0 ? risk : 0;

    private double Passed(double half, double beyond)
    {
        var bad = (1 - prior) * alternative.Accepted(half, spread);
        var good = prior * (1 - beyond);
        return bad > 0 ? bad / (bad + good) : 0;
    }

    // The widest acceptance that keeps the risk of passing a bad circuit; the risk rises with the width.
    private double Guarded(double widest, double greatestRisk)
    {
        double low = 0, high = widest;
        for (var i = 0; i < 40; i++)
        {
            var middle = (low + high) / 2;
            if (Passed(middle, spread.Beyond(middle)) <= greatestRisk) low = middle;
            else high = middle;
        }

        return low;
    }
}
