using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Positions;

/// <summary>Where a thing is, of all that was measured of it.</summary>
/// <param name="Position">Where it is; none where no position is known.</param>
/// <param name="Placement">The place that counts, with how well it is known; none where nobody ever said how.</param>
/// <param name="Placements">All measured places, oldest first; none where nobody ever said how.</param>
public sealed record BestPlace(GeoPoint? Position, PlacementView? Placement, IReadOnlyList<PlacementView>? Placements)
{
    /// <summary>Nothing is known.</summary>
    public static BestPlace None { get; } = new(null, null, null);
}

/// <summary>Folds the measured places of a thing into the one that counts. Pure; the order of arrival does not matter.</summary>
/// <remarks>
/// The rule: a place in degrees comes before one in a plane of the site's own, and both before one that is open; of these the one with the
/// smallest accuracy (the longer half axis of the 95 % ellipse) counts, and where nobody said how well it is known it comes last; of equals
/// the newest. Places that lie further apart than their ellipses allow (chi-square with two degrees of freedom, one in a thousand) contradict
/// one another.
/// </remarks>
public static class PlaceFold
{
    // Quantile 0.999 of chi-square with 2 degrees of freedom, as in the tables: 13.816.
    private const double ApartChiSquare = 13.816;

    /// <summary>The place that counts.</summary>
    /// <param name="measured">What facts say of it, oldest first.</param>
    /// <param name="networkOf">The reference points of a site.</param>
    /// <param name="contradictions">Takes what disagrees, in plain words.</param>
    public static BestPlace Of(IReadOnlyList<MeasuredPlace> measured, Func<string, ReferenceNetwork> networkOf, ICollection<string> contradictions)
    {
        ArgumentNullException.ThrowIfNull(measured);
        if (measured.Count == 0) return BestPlace.None;
        if (measured.All(each => !each.SaysHow)) return new(measured[^1].Position, null, null);
        var placed = measured.Select(each => Place(each, networkOf)).ToList();
        var best = placed[0];
        foreach (var each in placed)
            if (Compare(each.View, best.View) <= 0) best = each;
        foreach (var each in placed)
            if (Disagreement(best, each) is { } text) contradictions.Add(text);
        return new(best.View.Position, best.View, [.. placed.Select(each => each.View)]);
    }

    /// <summary>A reference point as it is shown.</summary>
    public static PlacementView OfPoint(ReferencePoint point, ReferenceNetwork network)
    {
        ArgumentNullException.ThrowIfNull(point);
        ArgumentNullException.ThrowIfNull(network);
        var data = point.Recorded.Data;
        var spread = point.At is null ? (PlaneSpread?)null : SpreadOf(network.Covariance([point]));
        var taped = data.Tapes is not null || data.Offset is not null;
        var notes = new List<string>(point.Notes);
        if (point.Standing != PlacementStanding.Placed) notes.Add(OpenPoint(point.Standing));
        var fits = point.Control is var (square, freedom) ? Electrics.ChiSquare.Beyond(square, freedom) >= Confidence.MisfitRisk : (bool?)null;
        if (fits == false) notes.Add("What was measured of it and of the points that it is taped with does not fit together. Measure again.");
        var ellipse = spread?.Ellipse();
        return new PlacementView
        {
            Fact = point.Recorded.Key,
            MeasuredAt = point.Recorded.At,
            Method = taped ? PositionMethod.Tape : data.Position?.Method,
            Standing = point.Standing,
            Position = Degrees(point.Frame, point.At, ellipse?.SemiMajorMetres, taped ? PositionMethod.Tape : data.Position?.Method),
            Local = Local(point.Frame, point.At),
            AccuracyMetres = ellipse?.SemiMajorMetres,
            Ellipse = ellipse,
            Tapes = data.Tapes is { } tapes ? [.. tapes.Select(tape => View(tape, network, Residual(tape, point, network), false))] : null,
            Offset = data.Offset,
            ChiSquare = point.Control is { } control ? Math.Round(control.ChiSquare, 2) : null,
            DegreesOfFreedom = point.Control?.Freedom,
            Fits = fits,
            Notes = notes.Count == 0 ? null : notes,
        };
    }

    private static (PlacementView View, PlaneSpread? Spread) Place(MeasuredPlace measured, Func<string, ReferenceNetwork> networkOf) =>
        measured.Tapes is null && measured.Offset is null ? ByPosition(measured, networkOf) : BySite(measured, networkOf(measured.SiteId));

    private static (PlacementView View, PlaneSpread? Spread) ByPosition(MeasuredPlace measured, Func<string, ReferenceNetwork> networkOf)
    {
        var position = measured.Position!;
        double? radius = position.AccuracyMetres ?? (position.Method is null ? null : Confidence.AssumedRadiusMetres(position.Method));
        var spread = radius is { } known ? PlaneSpread.OfRadius(known) : (PlaneSpread?)null;
        IReadOnlyList<FindByView>? find = null;
        if (radius <= FindBy.MostRadiusMetres)
        {
            var network = networkOf(measured.SiteId);
            if (network.Points.Values.FirstOrDefault(point => point.Frame.Earth is not null)?.Frame is { } frame)
            {
                find = FindBy.Of(
                    new SolvedPlace { Standing = PlacementStanding.Placed, Frame = frame, At = frame.Earth!.Of(position), Spread = spread }, network);
            }
        }

        return (
            new PlacementView
            {
                Fact = measured.Fact,
                MeasuredAt = measured.At,
                Method = position.Method,
                Standing = PlacementStanding.Placed,
                Position = position,
                AccuracyMetres = radius,
                Ellipse = spread?.Ellipse(),
                FindBy = find,
                Notes = position.AccuracyMetres is null
                    ? [radius is { } taken ? $"How well it is known was not said; {Files.Words.Plain(taken)} m are taken." : "How well it is known was not said."]
                    : null,
            },
            spread);
    }

    private static (PlacementView View, PlaneSpread? Spread) BySite(MeasuredPlace measured, ReferenceNetwork network)
    {
        var solved = PlaceSolver.Solve(measured, network);
        var outcome = solved.Taped;
        var ellipse = solved.Spread?.Ellipse();
        var residuals = outcome is { Standing: PlacementStanding.Placed } ? outcome.Places[0].Residuals : null;
        return (
            new PlacementView
            {
                Fact = measured.Fact,
                MeasuredAt = measured.At,
                Method = PositionMethod.Tape,
                Standing = solved.Standing,
                Position = Degrees(solved.Frame, solved.At, ellipse?.SemiMajorMetres, PositionMethod.Tape),
                Local = Local(solved.Frame, solved.At),
                AccuracyMetres = ellipse?.SemiMajorMetres,
                Ellipse = ellipse,
                RelativeEllipse = solved.Relative?.Ellipse(),
                Tapes = measured.Tapes is { } tapes
                    ? [.. tapes.Select((tape, i) => View(tape, network, residuals?[i], outcome?.Suspect == i))]
                    : null,
                Offset = measured.Offset,
                Candidates = outcome is { Standing: PlacementStanding.TwoPlaces }
                    ? [.. outcome.Places.Select(place => new PlaceCandidate
                    {
                        Position = Degrees(solved.Frame, place.At, place.Spread.Ellipse().SemiMajorMetres, PositionMethod.Tape),
                        Local = Local(solved.Frame, place.At),
                        Side = place.Side,
                    })]
                    : null,
                ChiSquare = outcome is { Fits: not null } ? Math.Round(outcome.Places[0].ChiSquare, 2) : null,
                DegreesOfFreedom = outcome is { DegreesOfFreedom: > 0, Fits: not null } ? outcome.DegreesOfFreedom : null,
                Fits = outcome?.Fits,
                FindBy = FindBy.Of(solved, network),
                Notes = solved.Notes.Count == 0 ? null : solved.Notes,
            },
            solved.Spread);
    }

    // Below 0 where the one comes before the other.
    private static int Compare(PlacementView one, PlacementView other)
    {
        var byKind = Rank(one).CompareTo(Rank(other));
        return byKind != 0 ? byKind : (one.AccuracyMetres ?? double.MaxValue).CompareTo(other.AccuracyMetres ?? double.MaxValue);
    }

    private static int Rank(PlacementView view) => view.Position is not null ? 0 : view.Local is not null ? 1 : 2;

    private static string? Disagreement((PlacementView View, PlaneSpread? Spread) best, (PlacementView View, PlaneSpread? Spread) other)
    {
        if (ReferenceEquals(best.View, other.View) || best is not { View.Position: { } here, Spread: { } one } || other is not { View.Position: { } there, Spread: { } two })
            return null;
        var away = new TangentPlane(here.Coordinates[0], here.Coordinates[1]).Of(there);
        if (one.Plus(two).SquareOf(away.X, away.Y) <= ApartChiSquare) return null;
        var metres = Math.Sqrt((away.X * away.X) + (away.Y * away.Y)).ToString("0.00", CultureInfo.InvariantCulture);
        return $"Its measured places lie {metres} m apart, more than their accuracies allow: {best.View.Fact} (counts) and {other.View.Fact}.";
    }

    private static double? Residual(Tape tape, ReferencePoint point, ReferenceNetwork network) =>
        point.At is { } at && network.Points.TryGetValue(tape.From, out var from) && from.At is { } other && from.Frame.Name == point.Frame.Name
            ? other.To(at) - Levelling.LevelMetres(tape)
            : null;

    private static TapeView View(Tape tape, ReferenceNetwork network, double? residual, bool suspect) => new()
    {
        From = tape.From,
        Name = network.Points.TryGetValue(tape.From, out var point) ? point.Recorded.Data.Name : null,
        DistanceMetres = tape.DistanceMetres,
        AccuracyMetres = Math.Round(Confidence.HalfWidthMetres(tape), 3),
        ResidualMetres = residual is { } known ? Math.Round(known, 3) + 0.0 : null,
        Suspect = suspect,
    };

    private static PlaneSpread SpreadOf(double[,] covariance) => new(covariance[0, 0], covariance[0, 1], covariance[1, 1]);

    private static GeoPoint? Degrees(PlaneFrame? frame, PlanePoint? at, double? accuracy, PositionMethod? method) => frame?.Earth is { } earth && at is { } point
        ? new GeoPoint { Type = "Point", Coordinates = earth.Back(point), AccuracyMetres = accuracy is > 0 ? accuracy : null, Method = method }
        : null;

    private static LocalPlace? Local(PlaneFrame? frame, PlanePoint? at) => frame is { Earth: null } && at is { } point
        ? new LocalPlace { XMetres = Math.Round(point.X, 3) + 0.0, YMetres = Math.Round(point.Y, 3) + 0.0 }
        : null;

    private static string OpenPoint(PlacementStanding standing) => standing switch
    {
        PlacementStanding.TwoPlaces => "Two places fit it. Say on which side it lies, or tape it from one more point.",
        PlacementStanding.Collinear => "It lies nearly on one line with the points that it is taped from. Tape it from a point to the side.",
        PlacementStanding.NoMeeting => "Its tapes do not meet. At least one of them is wrong; measure again.",
        _ => "It has no place yet: give it a position, or tapes from two reference points that have one.",
    };
}
