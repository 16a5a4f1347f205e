namespace FleetLight.Electrics;

/// <summary>
/// A fault with one free figure, weighed over all that the figure may be, so that a fault that can explain anything is not
/// preferred to one that explains just this.
/// </summary>
/// <remarks>
/// The range of the figure is cut into pieces of the prior. Within a piece the predicted readings are taken to move along
/// a straight line, on which the integral of a normal density is known in closed form: exact for a narrow peak (where it is
/// Laplace's approximation), for a flat one, at a bound, and for several peaks. A piece in which the line is bent by more
/// than a share of the uncertainty is halved, as long as it may matter.
/// </remarks>
internal sealed class Family
{
    private const int MostHalvings = 14;

    // Bend, in standard uncertainties, that makes no difference.
    private const double Straight = 0.15;

    // Pieces lighter than the family by this many units of logarithm do not matter.
    private const double Light = 4;

    // How far the readings may still move, in standard uncertainties, before the operating point is lost: the last volts go
    // fast.
    private const double ReachOfLast = 10;

    private readonly Func<double, Observation?> observe;
    private readonly Evidence evidence;
    private readonly List<Piece> pieces = [];

    private Family(Evidence evidence, Func<double, Observation?> observe)
    {
        this.evidence = evidence;
        this.observe = observe;
    }

    /// <summary>The pieces, in the order of the figure.</summary>
    public IReadOnlyList<Piece> Pieces => pieces;

    /// <summary>Logarithm of the density of the evidence under the family.</summary>
    public double LogDensity => LogSum(piece => piece.LogMass);

    /// <summary>Weighs a family, one figure with each step.</summary>
    /// <param name="evidence">The evidence.</param>
    /// <param name="count">How many pieces to begin with.</param>
    /// <param name="observe">What the evidence would be at the figure below which a share of the prior lies.</param>
    /// <param name="matters">Whether a family with this logarithmic density at best can matter.</param>
    /// <returns>Null for every step but the last.</returns>
    public static IEnumerable<Family?> Of(
        Evidence evidence, int count, Func<double, Observation?> observe, Func<double, bool> matters)
    {
        var family = new Family(evidence, observe);
        var ends = new End[count + 1];
        for (var i = 0; i <= count; i++)
        {
            ends[i] = new End((double)i / count, observe((double)i / count));
            yield return null;
        }

        for (var i = 0; i < count; i++)
        {
            var bend = Math.Max(
                i > 0 ? family.Bend(ends[i - 1], ends[i], ends[i + 1]) : 0,
                i < count - 1 ? family.Bend(ends[i], ends[i + 1], ends[i + 2]) : 0);
            family.pieces.Add(family.Weigh(ends[i], ends[i + 1], bend));
        }

        for (var i = 0; i < MostHalvings; i++)
        {
            var next = family.NextToHalve();
            if (next < 0 || !matters(family.LogSum(piece => piece.LogMost))) break;
            family.Halve(next);
            yield return null;
        }

        yield return family;
    }

    private int NextToHalve()
    {
        var total = LogDensity;
        var next = -1;
        for (var i = 0; i < pieces.Count; i++)
        {
            if (pieces[i].Bend < Straight || pieces[i].LogMost < total - Light) continue;
            if (next < 0 || pieces[i].LogMost > pieces[next].LogMost) next = i;
        }

        return next;
    }

    private void Halve(int index)
    {
        var (from, to) = (pieces[index].From, pieces[index].To);
        var share = (from.Share + to.Share) / 2;
        var middle = new End(share, observe(share));
        // A parabola bends a quarter as much over half the length.
        var bend = Bend(from, middle, to) / 4;
        pieces[index] = Weigh(from, middle, bend);
        pieces.Insert(index + 1, Weigh(middle, to, bend));
    }

    // How far the middle is from the straight line between its neighbours, in standard uncertainties.
    private double Bend(End one, End middle, End other)
    {
        if (one.Seen is null || middle.Seen is null || other.Seen is null)
            return one.Seen is null && middle.Seen is null && other.Seen is null ? 0 : 2 * Straight;
        var count = evidence.Rows.Length;
        Span<double> off = stackalloc double[count];
        for (var i = 0; i < count; i++)
            off[i] = middle.Seen.Mean[i] - ((one.Seen.Mean[i] + other.Seen.Mean[i]) / 2);
        var lit = Math.Abs(one.Seen.LogLit - other.Seen.LogLit);
        return Math.Sqrt(Cholesky.Whiten(middle.Seen.Factor, off, count)) + (lit > 0.1 ? Straight : 0);
    }

    private Piece Weigh(End from, End to, double bend)
    {
        var width = Math.Log(to.Share - from.Share);
        if (from.Seen is null || to.Seen is null)
        {
            // Somewhere in it the circuit loses its operating point.
            if ((from.Seen ?? to.Seen) is not { } seen) return new Piece(from, to, bend, double.NegativeInfinity);
            var half = seen.LogDensity + width - Math.Log(2);
            var left = Math.Max(0, Math.Sqrt(seen.SquaredDistance) - ReachOfLast);
            return new Piece(from, to, bend, half)
            {
                Mean = from.Seen is null ? 0.75 : 0.25,
                Variance = 1.0 / 48,
                LogMost = seen.LogPeak + seen.LogLit + width - (0.5 * left * left),
            };
        }

        var along = Along(from.Seen, to.Seen, from.Seen);
        if (along.Centre > 0.5) along = Along(from.Seen, to.Seen, to.Seen);
        var lit = LogMean(from.Seen.LogLit, to.Seen.LogLit);
        var on = TruncatedNormal.Of(along.Curvature, along.Centre);
        var peak = (along.Centre > 0.5 ? to : from).Seen!.LogPeak + lit + width;
        var near = Math.Max(0, Math.Sqrt(along.Nearest) - bend);
        return new Piece(from, to, bend, peak + on.LogIntegral - (0.5 * along.Nearest))
        {
            Mean = on.Mean,
            Variance = on.Variance,
            // As heavy as it could be if the bend led towards the readings.
            LogMost = peak + Math.Min(0, on.LogIntegral + (0.5 * Excess(along, bend))) - (0.5 * near * near),
        };
    }

    // What the distance beyond the ends of the piece costs, as far as the bend may make up for it.
    private static double Excess((double Curvature, double Centre, double Nearest) along, double bend)
    {
        var beyond = Math.Max(0, Math.Abs(along.Centre - 0.5) - 0.5) * Math.Sqrt(along.Curvature);
        if (!double.IsFinite(beyond)) return 0;
        var left = Math.Max(0, beyond - bend);
        return (beyond * beyond) - (left * left);
    }

    // The line from one mean to the other against the readings: curvature, nearest point, squared distance there.
    private (double Curvature, double Centre, double Nearest) Along(Observation from, Observation to, Observation by)
    {
        var count = evidence.Rows.Length;
        Span<double> rest = stackalloc double[count];
        Span<double> line = stackalloc double[count];
        for (var i = 0; i < count; i++)
        {
            rest[i] = evidence.Rows[i].Value - from.Mean[i];
            line[i] = to.Mean[i] - from.Mean[i];
        }

        var distance = Cholesky.Whiten(by.Factor, rest, count);
        var curvature = Cholesky.Whiten(by.Factor, line, count);
        double pull = 0;
        for (var i = 0; i < count; i++) pull += rest[i] * line[i];
        if (!(curvature > 1e-12)) return (0, 0.5, distance);
        return (curvature, pull / curvature, Math.Max(0, distance - (pull * pull / curvature)));
    }

    private double LogSum(Func<Piece, double> of)
    {
        var most = double.NegativeInfinity;
        foreach (var piece in pieces) most = Math.Max(most, of(piece));
        if (double.IsNegativeInfinity(most)) return most;
        double sum = 0;
        foreach (var piece in pieces) sum += Math.Exp(of(piece) - most);
        return most + Math.Log(sum);
    }

    private static double LogMean(double one, double other)
    {
        var most = Math.Max(one, other);
        return most + Math.Log((Math.Exp(one - most) + Math.Exp(other - most)) / 2);
    }

    /// <summary>One end of a piece.</summary>
    internal readonly record struct End(double Share, Observation? Seen);

    /// <summary>A piece of the figure's prior.</summary>
    internal readonly record struct Piece(End From, End To, double Bend, double LogMass)
    {
        /// <summary>Logarithm of the mass that it may have at most.</summary>
        public double LogMost { get; init; } = LogMass;

        /// <summary>Mean of the place in it given the evidence, 0 at its beginning to 1.</summary>
        public double Mean { get; init; } = 0.5;

        /// <summary>Variance of that.</summary>
        public double Variance { get; init; } = 1.0 / 12;

        /// <summary>The mean as a share of the prior.</summary>
        public double MeanShare => From.Share + (Mean * (To.Share - From.Share));

        /// <summary>The variance as a share of the prior.</summary>
        public double ShareVariance => Variance * (To.Share - From.Share) * (To.Share - From.Share);
    }
}
