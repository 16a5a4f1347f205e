namespace FleetLight.Electrics;

/// <summary>Whether readings can tell two hypotheses apart.</summary>
/// <remarks>
/// The measure is Jeffreys' divergence, the mean logarithm of odds that the readings would give for the true one of the
/// two, summed over both directions (Kullback and Leibler, Annals of Mathematical Statistics 22, 1951; reference from
/// memory). For normal readings of equal uncertainty it is the squared distance of the two predictions in standard
/// uncertainties, so that at <see cref="Most"/> the best judge between two equally common faults is right 69 times in 100.
/// </remarks>
internal static class Likeness
{
    /// <summary>Two hypotheses with a divergence up to this cannot be told apart.</summary>
    public const double Most = 1;

    // How far a free figure may move, in standard deviations of what the readings leave of it.
    private const double Reach = 3;

    private const int Rounds = 4;

    /// <summary>Whether the readings used cannot tell two hypotheses apart.</summary>
    public static bool CannotTell(WeighedHypothesis one, WeighedHypothesis other, Evidence evidence) =>
        Divergence(one, other, evidence) <= Most;

    /// <summary>Jeffreys' divergence of what two hypotheses predict for the readings used.</summary>
    public static double Divergence(WeighedHypothesis one, WeighedHypothesis other, Evidence evidence)
    {
        if (one.Seen is null || other.Seen is null || one.State is null || other.State is null)
            return double.PositiveInfinity;
        double sum = 0;
        foreach (var lamp in evidence.Lamps)
        {
            var p = Observer.LitProbability(one.State, lamp.Fitting);
            var q = Observer.LitProbability(other.State, lamp.Fitting);
            sum += (p - q) * Math.Log(p * (1 - q) / (q * (1 - p)));
        }

        var count = evidence.Rows.Length;
        if (count == 0 || sum > Most) return sum;
        Span<double> off = stackalloc double[count];
        Span<double> along = stackalloc double[count];
        Nearest(one, other, off, along);
        off.CopyTo(along);
        var distance = Cholesky.Whiten(one.Seen.Factor, along, count);
        off.CopyTo(along);
        distance += Cholesky.Whiten(other.Seen.Factor, along, count);
        if (distance / 2 > Most) return sum + (distance / 2);
        return sum + ((distance + Spread(one.Seen, other.Seen, count) + Spread(other.Seen, one.Seen, count)) / 2) - count;
    }

    // The least difference of the two means that figures within reach of the readings leave: a free figure follows the
    // chance errors of the readings, and that alone tells it from nothing.
    private static void Nearest(WeighedHypothesis one, WeighedHypothesis other, Span<double> off, Span<double> along)
    {
        var (a, b) = (one.Seen!, other.Seen!);
        for (var i = 0; i < off.Length; i++) off[i] = a.Mean[i] - b.Mean[i];
        double byOne = 0, byOther = 0;
        for (var round = 0; round < Rounds; round++)
        {
            byOne = Follow(b, a, one.SeenBeside, byOne, -1, off, along);
            byOther = Follow(a, b, other.SeenBeside, byOther, 1, off, along);
            if (one.SeenBeside is null || other.SeenBeside is null) break;
        }
    }

    // Moves one of them along its figure, in units of what the readings leave of it; returns where it is then.
    private static double Follow(
        Observation by, Observation from, Observation? beside, double at, int sign, Span<double> off, Span<double> along)
    {
        if (beside is null) return 0;
        var count = off.Length;
        Span<double> white = stackalloc double[count];
        off.CopyTo(white);
        Cholesky.Whiten(by.Factor, white, count);
        for (var i = 0; i < count; i++) along[i] = beside.Mean[i] - from.Mean[i];
        var length = Cholesky.Whiten(by.Factor, along, count);
        if (!(length > 1e-12)) return at;
        double pull = 0;
        for (var i = 0; i < count; i++) pull += white[i] * along[i];
        var to = Math.Clamp(at + (sign * pull / length), -Reach, Reach);
        for (var i = 0; i < count; i++) off[i] -= sign * (to - at) * (beside.Mean[i] - from.Mean[i]);
        return to;
    }

    // Trace of the one covariance in units of the other: the squares of the other's factor, whitened column by column.
    private static double Spread(Observation by, Observation of, int count)
    {
        double sum = 0;
        Span<double> column = stackalloc double[count];
        for (var j = 0; j < count; j++)
        {
            for (var i = 0; i < count; i++) column[i] = i < j ? 0 : of.Factor[(i * count) + j];
            sum += Cholesky.Whiten(by.Factor, column, count);
        }

        return sum;
    }
}
