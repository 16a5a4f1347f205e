using FleetLight.Contracts;
using FleetLight.Electrics;

namespace FleetLight.Record.Positions;

/// <summary>A level distance from a reference point.</summary>
/// <param name="From">Where the reference point is.</param>
/// <param name="LevelMetres">The distance, reduced to the level, m.</param>
/// <param name="DeviationMetres">Its standard deviation, m.</param>
public readonly record struct LevelTape(PlanePoint From, double LevelMetres, double DeviationMetres);

/// <summary>A rough position that tells which of two places is meant.</summary>
/// <param name="At">Where.</param>
/// <param name="RadiusMetres">Radius of its 95 % circle, m.</param>
public readonly record struct RoughPlace(PlanePoint At, double RadiusMetres);

/// <summary>One place that fits.</summary>
/// <param name="At">Where.</param>
/// <param name="Spread">Its covariance with what is not known of the reference points, m².</param>
/// <param name="Relative">Its covariance beside the reference points taken as exact, m².</param>
/// <param name="ChiSquare">Weighted sum of squares, no unit.</param>
/// <param name="Residuals">Distance to the place less the taped one, m, tape by tape.</param>
/// <param name="Side">Side of the line from the first tape's reference point to the second's.</param>
public sealed record TapedPlace(
    PlanePoint At, PlaneSpread Spread, PlaneSpread Relative, double ChiSquare, IReadOnlyList<double> Residuals, SideOfLine Side)
{
    /// <summary>How it follows its reference points when these move.</summary>
    internal double[,] Following { get; init; } = new double[2, 0];
}

/// <summary>What tapes say.</summary>
public sealed record TapedOutcome
{
    /// <summary>What came of it.</summary>
    public required PlacementStanding Standing { get; init; }

    /// <summary>The place; or both, where nothing tells which; else none.</summary>
    public IReadOnlyList<TapedPlace> Places { get; init; } = [];

    /// <summary>How many more tapes there are than two.</summary>
    public int DegreesOfFreedom { get; init; }

    /// <summary>Whether the tapes fit one another; none where there are only two.</summary>
    public bool? Fits { get; init; }

    /// <summary>The one tape that does not fit, by its number; none where that cannot be told.</summary>
    public int? Suspect { get; init; }

    /// <summary>Whether the lines from the reference points cross at under 30 degrees or so: a weak fix.</summary>
    public bool Weak { get; init; }

    /// <summary>Whether a side was stated that the tapes do not allow.</summary>
    public bool SideDenied { get; init; }

    /// <summary>By how much two tapes do not reach, or overlap, m.</summary>
    public double? GapMetres { get; init; }
}

/// <summary>
/// Trilateration: the place from level distances. Pure.
/// </summary>
/// <remarks>
/// <para>Two circles meet twice, once on each side of the line between their centres; so do more, where the reference points lie on one line.
/// Which is meant is told by the stated side, or by a rough position that is nearer to one than to the other by more than its own accuracy;
/// otherwise both are answered.</para>
/// <para>The misfit is tested by chi-square at a risk of one in a thousand. One tape is named (Baarda's w test) only where there are at least
/// two more than needed, and what is left without it fits.</para>
/// </remarks>
public static class TapeSolver
{
    // The lesser eigenvalue of the mean of e eᵀ over the unit vectors e to the reference points: (1 − |cos γ|)/2 for two that cross at γ.
    private const double WeakStrength = 0.067;
    private const double LeastStrength = 0.0019;

    // A second place counts as fitting where it fits hardly worse than the first: chi-square with one degree of freedom, one in a thousand.
    private const double RivalChiSquare = 10.83;

    private const double SamePlaceMetres = 0.02;

    /// <summary>The place.</summary>
    /// <param name="tapes">At least two, from different reference points.</param>
    /// <param name="covariance">Covariance of the reference points in the order of the tapes, X before Y, m²; exact where absent.</param>
    /// <param name="side">The stated side of the line from the first reference point to the second.</param>
    /// <param name="rough">A rough position.</param>
    public static TapedOutcome Solve(IReadOnlyList<LevelTape> tapes, double[,]? covariance = null, SideOfLine? side = null, RoughPlace? rough = null)
    {
        ArgumentNullException.ThrowIfNull(tapes);
        PlanePoint[] references = [.. tapes.Select(tape => tape.From)];
        Observation[] measured = [.. tapes.Select((tape, i) => new TapeObservation(0, i + 1, tape.LevelMetres, tape.DeviationMetres))];
        var (one, two) = BestPair(tapes);
        if (one < 0) return new() { Standing = PlacementStanding.Collinear };
        if (tapes.Count == 2 && Gap(tapes) is var gap and > 0)
        {
            var deviation = GapDeviation(tapes, covariance);
            return new() { Standing = gap > Confidence.MisfitDeviations * deviation ? PlacementStanding.NoMeeting : PlacementStanding.Collinear, GapMetres = gap };
        }

        var fits = new List<PlaneFit>();
        foreach (var start in Meetings(tapes[one], tapes[two]))
        {
            if (PlaneFit.From(start, measured, references, covariance) is { } fit && fits.TrueForAll(other => other.Point.To(fit.Point) > SamePlaceMetres))
                fits.Add(fit);
        }

        fits.RemoveAll(fit => Strength(fit.Point, references) < LeastStrength);
        if (fits.Count == 0) return new() { Standing = PlacementStanding.Collinear };
        fits.Sort((a, b) => a.ChiSquare.CompareTo(b.ChiSquare));
        fits.RemoveAll(fit => fit.ChiSquare - fits[0].ChiSquare > RivalChiSquare);
        var denied = side is { } stated && fits.TrueForAll(fit => SideOf(fit.Point, references) != stated);
        if (side is not null && !denied) fits.RemoveAll(fit => SideOf(fit.Point, references) != side);
        else if (fits.Count > 1 && rough is { } near) Choose(fits, near);
        TapedPlace[] places = [.. fits.Select(fit => Place(fit, measured, references)).OrderBy(place => place.Side)];
        var outcome = new TapedOutcome
        {
            Standing = places.Length > 1 ? PlacementStanding.TwoPlaces : PlacementStanding.Placed,
            Places = places,
            DegreesOfFreedom = tapes.Count - 2,
            Weak = Strength(fits[0].Point, references) < WeakStrength,
            SideDenied = denied,
        };
        return tapes.Count == 2 ? outcome : Tested(outcome, fits[0]);
    }

    private static TapedOutcome Tested(TapedOutcome outcome, PlaneFit best)
    {
        var free = outcome.DegreesOfFreedom;
        if (ChiSquare.Beyond(best.ChiSquare, free) >= Confidence.MisfitRisk) return outcome with { Fits = true };
        int? suspect = null;
        if (free > 1)
        {
            var deviations = best.Standardised();
            var worst = Enumerable.Range(0, deviations.Length).MaxBy(i => Math.Abs(deviations[i]));
            // Taking a measurement out lowers chi-square by the square of its w.
            var left = best.ChiSquare - (deviations[worst] * deviations[worst]);
            if (Math.Abs(deviations[worst]) > Confidence.MisfitDeviations && ChiSquare.Beyond(left, free - 1) >= Confidence.MisfitRisk) suspect = worst;
        }

        return outcome with { Fits = false, Suspect = suspect };
    }

    private static TapedPlace Place(PlaneFit fit, Observation[] measured, PlanePoint[] references)
    {
        var exact = PlaneFit.At(fit.Point, measured, references, null);
        return new(fit.Point, fit.Spread, exact?.Spread ?? fit.Spread, fit.ChiSquare, [.. fit.Misfits.Select(misfit => -misfit)], SideOf(fit.Point, references))
        {
            Following = fit.Following(),
        };
    }

    private static void Choose(List<PlaneFit> fits, RoughPlace near)
    {
        fits.Sort((a, b) => a.Point.To(near.At).CompareTo(b.Point.To(near.At)));
        if (fits[1].Point.To(near.At) - fits[0].Point.To(near.At) > near.RadiusMetres) fits.RemoveRange(1, fits.Count - 1);
    }

    private static SideOfLine SideOf(PlanePoint at, PlanePoint[] references) =>
        ((references[1].X - references[0].X) * (at.Y - references[0].Y)) - ((references[1].Y - references[0].Y) * (at.X - references[0].X)) >= 0
            ? SideOfLine.Left
            : SideOfLine.Right;

    private static double Strength(PlanePoint at, PlanePoint[] references)
    {
        double xx = 0, xy = 0, yy = 0;
        foreach (var reference in references)
        {
            var distance = Math.Max(reference.To(at), 1e-9);
            var (x, y) = ((at.X - reference.X) / distance, (at.Y - reference.Y) / distance);
            (xx, xy, yy) = (xx + (x * x), xy + (x * y), yy + (y * y));
        }

        return (((xx + yy) / 2) - Math.Sqrt(((xx - yy) * (xx - yy) / 4) + (xy * xy))) / references.Length;
    }

    // The two tapes whose circles meet most squarely; those farthest apart where none meet.
    private static (int One, int Two) BestPair(IReadOnlyList<LevelTape> tapes)
    {
        var (best, pair) = (double.NegativeInfinity, (-1, -1));
        for (var i = 0; i < tapes.Count; i++)
        {
            for (var j = i + 1; j < tapes.Count; j++)
            {
                var apart = tapes[i].From.To(tapes[j].From);
                if (apart < 1e-6) continue;
                var (a, b) = (tapes[i].LevelMetres, tapes[j].LevelMetres);
                // Cosine of the angle at the place, by the law of cosines.
                var cosine = ((a * a) + (b * b) - (apart * apart)) / (2 * a * b);
                var worth = -Math.Abs(cosine);
                if (worth > best) (best, pair) = (worth, (i, j));
            }
        }

        return pair;
    }

    // Where two circles meet, or where they come nearest to one another.
    private static PlanePoint[] Meetings(LevelTape one, LevelTape two)
    {
        var apart = one.From.To(two.From);
        var (ux, uy) = ((two.From.X - one.From.X) / apart, (two.From.Y - one.From.Y) / apart);
        var along = ((one.LevelMetres * one.LevelMetres) - (two.LevelMetres * two.LevelMetres) + (apart * apart)) / (2 * apart);
        var square = (one.LevelMetres * one.LevelMetres) - (along * along);
        // Where they do not meet, more tapes may still settle it; the search begins a little off the line on either side.
        var off = square > 0 ? Math.Sqrt(square) : 0.05 * one.LevelMetres;
        return
        [
            new(one.From.X + (along * ux) - (off * uy), one.From.Y + (along * uy) + (off * ux)),
            new(one.From.X + (along * ux) + (off * uy), one.From.Y + (along * uy) - (off * ux)),
        ];
    }

    private static double Gap(IReadOnlyList<LevelTape> tapes)
    {
        var apart = tapes[0].From.To(tapes[1].From);
        var (a, b) = (tapes[0].LevelMetres, tapes[1].LevelMetres);
        return Math.Max(apart - a - b, Math.Abs(a - b) - apart);
    }

    private static double GapDeviation(IReadOnlyList<LevelTape> tapes, double[,]? covariance)
    {
        var variance = (tapes[0].DeviationMetres * tapes[0].DeviationMetres) + (tapes[1].DeviationMetres * tapes[1].DeviationMetres);
        if (covariance is null) return Math.Sqrt(variance);
        var apart = tapes[0].From.To(tapes[1].From);
        var (x, y) = ((tapes[1].From.X - tapes[0].From.X) / apart, (tapes[1].From.Y - tapes[0].From.Y) / apart);
        double[] slope = [-x, -y, x, y];
        for (var i = 0; i < 4; i++)
            for (var j = 0; j < 4; j++) variance += slope[i] * covariance[i, j] * slope[j];
        return Math.Sqrt(Math.Max(0, variance));
    }
}
