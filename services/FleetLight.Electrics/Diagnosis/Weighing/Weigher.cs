using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Weighs every case of every fault of a catalogue against the readings.</summary>
internal sealed class Weigher
{
    // Weights below the best by more than this do not matter: e^-16 is a tenth of a millionth.
    private const double Hopeless = 16;

    // Pieces to begin with: by the decade where the figure is spread over several, and at least so many.
    private const double PiecesADecade = 1.6;
    private const int LeastPieces = 3;
    private const int MostPieces = 16;

    // A family narrower than this share of its prior is one hypothesis.
    private const double Narrow = 0.1;

    // Least share of a family that stands as a hypothesis of its own.
    private const double LeastPart = 0.18;

    private readonly CircuitPlan plan;
    private readonly Evidence evidence;
    private readonly ICircuitState sound;
    private readonly Observer observer;
    private readonly List<WeighedHypothesis> all = [];
    private double best = double.NegativeInfinity;

    public Weigher(CircuitPlan plan, Evidence evidence, ICircuitState sound)
    {
        this.plan = plan;
        this.evidence = evidence;
        this.sound = sound;
        observer = new Observer(plan, evidence);
    }

    /// <summary>All that were weighed, hopeless ones left out.</summary>
    public List<WeighedHypothesis> All => all;

    /// <summary>Tells the readings of a state.</summary>
    public Observer Observer => observer;

    /// <summary>
    /// The cases of one fitting of another wattage with what they predict, hopeless ones too: pairs are made of them.
    /// </summary>
    public List<WeighedHypothesis> Singles { get; } = [];

    /// <summary>Weighs the cases of a fault, one with each step, or one figure of one that leaves a figure free.</summary>
    /// <returns>How many were weighed so far.</returns>
    public IEnumerable<int> Weigh(FaultDefinition definition, double prior, IEnumerable<FaultCase>? given)
    {
        var weighed = 0;
        var cases = (given ?? []).Where(IsSane).ToList();
        var total = cases.Sum(one => one.Share);
        foreach (var one in cases)
        {
            var logPrior = Math.Log(prior * one.Share / total);
            if (one.Free is { } free)
            {
                foreach (var _ in WeighFamily(definition, one, free, logPrior)) yield return weighed;
            }
            else
            {
                WeighOne(definition, one, logPrior);
            }

            yield return ++weighed;
        }
    }

    /// <summary>Weighs one case without a free figure; the weight it was given, or null where it is impossible.</summary>
    public WeighedHypothesis? WeighOne(FaultDefinition definition, FaultCase one, double logPrior)
    {
        if (StateWith(one.Changes) is not { } state) return null;
        if (observer.Observe(state, one.Changes, one.Reading) is not { } seen) return null;
        var weighed = new WeighedHypothesis
        {
            Definition = definition,
            Case = one,
            Changes = one.Changes,
            Figure = one.Figure,
            LogWeight = logPrior + seen.LogDensity,
            State = state,
            Seen = seen,
        };
        Add(weighed);
        if (definition.Kind == FaultKind.FittingOfOtherWattage) Singles.Add(weighed);
        return weighed;
    }

    /// <summary>Adds a hypothesis that is weighed already.</summary>
    public void Add(WeighedHypothesis weighed)
    {
        var always = weighed.Kind == FaultKind.NoneOfThese && weighed.SlipRow < 0;
        if (!(weighed.LogWeight > best - Hopeless) && !always) return;
        best = Math.Max(best, weighed.LogWeight);
        all.Add(weighed);
    }

    /// <summary>Works out the state of a family's hypothesis where that was put off.</summary>
    public bool Complete(WeighedHypothesis weighed)
    {
        if (weighed.State is not null || weighed.Case.Free is not { } free) return true;
        weighed.State = plan.Solve(weighed.Changes, []);
        if (weighed.State is null) return false;
        weighed.Seen = observer.Observe(weighed.State, weighed.Changes, weighed.Case.Reading);
        if (weighed.Seen is null) return false;
        var beside = free.ChangesAt(weighed.FigureBeside).OrEmpty();
        weighed.Beside = plan.Solve(beside, []);
        if (weighed.Beside is not null)
            weighed.SeenBeside = observer.Observe(weighed.Beside, beside, weighed.Case.Reading);
        if (weighed.SeenBeside is null) weighed.Beside = null;
        return true;
    }

    // Whoever defines a fault may get it wrong.
    private bool IsSane(FaultCase? one) => one is { Share: > 0 } && double.IsFinite(one.Share)
        && one.Reading < evidence.Used.Length
        && (one.Free is null ? !one.Changes.IsDefault : one.Free.IsValid);

    // The state does not depend on the meter, so that its slips need no solving of their own.
    private ICircuitState? StateWith(ImmutableArray<CircuitChange> changes)
    {
        foreach (var change in changes)
            if (change is not (MeterOnWrongRange or MeterLeadsReversed)) return plan.Solve(changes, []);
        return sound;
    }

    private IEnumerable<Family?> WeighFamily(FaultDefinition definition, FaultCase one, FreeFigure free, double logPrior)
    {
        Family? family = null;
        foreach (var step in Family.Of(
            evidence,
            free.IsLogarithmic
                ? Math.Clamp((int)Math.Ceiling(PiecesADecade * Math.Log10(free.Most / free.Least)), LeastPieces, MostPieces)
                : LeastPieces,
            share =>
            {
                var changes = free.ChangesAt(free.At(share)).OrEmpty();
                return plan.Solve(changes, []) is { } state ? observer.Observe(state, changes, one.Reading) : null;
            },
            logDensity => logPrior + logDensity > best - Hopeless))
        {
            family = step;
            yield return null;
        }

        var total = family!.LogDensity;
        if (!(logPrior + total > best - Hopeless)) yield break;
        foreach (var (logMass, mean, variance) in Parts(family, total))
        {
            var spread = Math.Sqrt(variance);
            Add(new WeighedHypothesis
            {
                Definition = definition,
                Case = one,
                Changes = free.ChangesAt(free.At(mean)).OrEmpty(),
                Figure = free.At(mean),
                FigureBeside = free.At(mean + spread <= 1 ? mean + spread : mean - spread),
                LogWeight = logPrior + logMass,
            });
        }
    }

    // One part where the figure is known narrowly enough for a straight line, else neighbouring pieces gathered until each
    // part counts.
    private static List<(double LogMass, double Mean, double Variance)> Parts(Family family, double total)
    {
        var whole = new Moments();
        var part = new Moments();
        var parts = new List<Moments>();
        foreach (var piece in family.Pieces)
        {
            var share = Math.Exp(piece.LogMass - total);
            whole.Add(share, piece);
            part.Add(share, piece);
            if (part.Share < LeastPart) continue;
            parts.Add(part);
            part = default;
        }

        if (whole.Variance <= Narrow * Narrow || parts.Count == 0) return [(total, whole.Mean, whole.Variance)];
        // What is left over at the end belongs to the last part.
        parts[^1] = parts[^1].With(part);
        return parts.ConvertAll(one => (total + Math.Log(one.Share), one.Mean, one.Variance));
    }

    private struct Moments
    {
        private double first;
        private double second;

        public double Share { get; private set; }

        public readonly double Mean => Share > 0 ? first / Share : 0.5;

        public readonly double Variance => Share > 0 ? Math.Max(0, (second / Share) - (Mean * Mean)) : 0;

        public void Add(double share, Family.Piece piece)
        {
            Share += share;
            first += share * piece.MeanShare;
            second += share * (piece.ShareVariance + (piece.MeanShare * piece.MeanShare));
        }

        public readonly Moments With(Moments other) => new()
        {
            Share = Share + other.Share,
            first = first + other.first,
            second = second + other.second,
        };
    }
}
