using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Positions;

/// <summary>Works out one measured place from a site's reference points. Pure.</summary>
internal static class PlaceSolver
{
    /// <summary>The place by tapes or offset; a position by itself needs none of this.</summary>
    public static SolvedPlace Solve(MeasuredPlace measured, ReferenceNetwork network)
    {
        var names = ReferenceNetwork.MeasuredFrom([.. measured.Tapes ?? []], measured.Offset).Distinct(StringComparer.Ordinal).ToArray();
        var lacking = Array.Find(names, name => !network.Points.TryGetValue(name, out var point) || point.At is null);
        if (lacking is not null)
            return Open(PlacementStanding.Waiting, $"It waits for a place of the reference point {Called(lacking, network)}.");
        ReferencePoint[] points = [.. names.Select(name => network.Points[name])];
        if (Array.Exists(points, point => point.Frame.Name != points[0].Frame.Name))
        {
            return Open(
                PlacementStanding.Waiting, "Its reference points are known in different planes. Tape them with one another, or give each a position.");
        }

        return measured.Tapes is { } tapes ? ByTapes(measured, tapes, points, network) : ByOffset(measured.Offset!, points, network);
    }

    private static SolvedPlace ByTapes(MeasuredPlace measured, IReadOnlyList<Tape> tapes, ReferencePoint[] points, ReferenceNetwork network)
    {
        var frame = points[0].Frame;
        RoughPlace? rough = frame.Earth is { } earth && measured.Position is { } position
            ? new(earth.Of(position), position.AccuracyMetres ?? Confidence.AssumedRadiusMetres(position.Method))
            : null;
        var outcome = TapeSolver.Solve(
            [.. tapes.Select((tape, i) => new LevelTape(points[i].At!.Value, Levelling.LevelMetres(tape), Levelling.DeviationMetres(tape)))],
            network.Covariance(points), measured.Side, rough);
        var place = outcome.Standing == PlacementStanding.Placed ? outcome.Places[0] : null;
        return new SolvedPlace
        {
            Standing = outcome.Standing,
            Frame = frame,
            At = place?.At,
            Spread = place?.Spread,
            Relative = place?.Relative,
            Leans = place is null ? null : (points, place.Following),
            Taped = outcome,
            Notes = Notes(outcome, tapes, network),
        };
    }

    private static SolvedPlace ByOffset(BaselineOffset offset, ReferencePoint[] points, ReferenceNetwork network)
    {
        var (from, to) = (points[0].At!.Value, points[1].At!.Value);
        if (OffsetSolver.At(from, to, offset) is not { } at)
            return Open(PlacementStanding.Collinear, "The two points of the baseline lie too close to one another to give a direction.");
        var measured = OffsetSolver.Measured(0, 1, 2, offset);
        var fit = PlaneFit.At(at, measured, [from, to], network.Covariance(points));
        var exact = PlaneFit.At(at, measured, [from, to], null);
        if (fit is null || exact is null) return Open(PlacementStanding.Collinear, "The baseline gives no direction.");
        return new SolvedPlace
        {
            Standing = PlacementStanding.Placed,
            Frame = points[0].Frame,
            At = at,
            Spread = fit.Spread,
            Relative = exact.Spread,
            Leans = (points, fit.Following()),
        };
    }

    private static List<string> Notes(TapedOutcome outcome, IReadOnlyList<Tape> tapes, ReferenceNetwork network)
    {
        var notes = new List<string>();
        switch (outcome.Standing)
        {
            case PlacementStanding.TwoPlaces:
                notes.Add(
                    $"Two places fit, one on each side of the line from {Called(tapes[0].From, network)} to {Called(tapes[1].From, network)}. "
                        + "Say on which side it lies, or tape it from one more point beside that line.");
                break;
            case PlacementStanding.Collinear:
                notes.Add("The thing and its reference points lie nearly on one line, so the tapes do not tell how far off the line it is. Tape it from a point to the side.");
                break;
            case PlacementStanding.NoMeeting:
                notes.Add($"The tapes do not meet: they miss one another by {Metres(outcome.GapMetres ?? 0)}. At least one of them is wrong; measure again.");
                break;
        }

        if (outcome.Weak) notes.Add("A weak fix: the tapes cross at a narrow angle. One from a point to the side would make it much better.");
        if (outcome.SideDenied) notes.Add("The tapes do not allow the side that was stated; the side that they give counts.");
        if (outcome.Fits == false)
        {
            notes.Add(outcome.Suspect is { } at
                ? $"The tape from {Called(tapes[at].From, network)} does not fit the others; it was used all the same. Measure it again."
                : "The tapes do not fit one another, and which of them is wrong cannot be told. Measure again, or tape it from one more point.");
        }

        return notes;
    }

    private static string Called(string id, ReferenceNetwork network) =>
        network.Points.TryGetValue(id, out var point) ? point.Recorded.Data.Name : id;

    private static string Metres(double metres) => metres.ToString("0.00", CultureInfo.InvariantCulture) + " m";

    private static SolvedPlace Open(PlacementStanding standing, string why) => new() { Standing = standing, Notes = [why] };
}
