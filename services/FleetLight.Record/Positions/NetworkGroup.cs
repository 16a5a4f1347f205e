using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Positions;

/// <summary>Reference points that are taped with one another: first each gets an approximate place, then all are adjusted together.</summary>
internal sealed class NetworkGroup
{
    // What fixes the plane of a group that is tied to nothing, m: far below what a tape tells.
    private const double DatumDeviationMetres = 1e-4;
    private const double AssumedLocalRadiusMetres = 0.05;

    private readonly IReadOnlyList<string> ids;
    private readonly IReadOnlyDictionary<string, Counted<ReferencePointRecorded>> facts;
    private readonly PlaneFrame frame;
    private readonly int number;
    private readonly Dictionary<string, PlanePoint> known = new(StringComparer.Ordinal);
    private readonly Dictionary<string, PlacementStanding> open = new(StringComparer.Ordinal);
    private readonly (string From, string To)? datum;

    public NetworkGroup(IReadOnlyList<string> ids, IReadOnlyDictionary<string, Counted<ReferencePointRecorded>> facts, TangentPlane earth, int number)
    {
        (this.ids, this.facts, this.number) = (ids, facts, number);
        if (Data.Any(data => data.Position is not null)) frame = new("earth", earth);
        else if (Data.Any(data => data.Local is not null)) frame = new("local", null);
        else
        {
            frame = new($"own:{ids[0]}", null);
            datum = ids.SelectMany(id => (facts[id].Data.Tapes ?? []).Where(tape => facts.ContainsKey(tape.From)).Select(tape => (tape.From, id)))
                .Order().Cast<(string, string)?>().FirstOrDefault();
        }
    }

    private IEnumerable<ReferencePointRecorded> Data => ids.Select(id => facts[id].Data);

    public (IReadOnlyList<ReferencePoint> Points, double[,] Covariance) Adjusted()
    {
        Approximate();
        string[] placed = [.. ids.Where(known.ContainsKey)];
        var numbers = placed.Select((id, i) => (id, i)).ToDictionary(pair => pair.id, pair => pair.i, StringComparer.Ordinal);
        var measured = Measured(numbers);
        var fit = placed.Length == 0 ? null : NetworkFit.Of([.. placed.Select(id => known[id])], measured);
        var freedom = measured.Count - (2 * placed.Length);
        return (
            [.. ids.Select(id => Point(id, numbers, fit?.Points, fit is { } done && freedom > 0 ? (done.ChiSquare, freedom) : null))],
            fit?.Covariance ?? new double[0, 0]);
    }

    private ReferencePoint Point(string id, Dictionary<string, int> numbers, PlanePoint[]? adjusted, (double, int)? control)
    {
        var at = numbers.TryGetValue(id, out var place) && adjusted is not null ? adjusted[place] : (PlanePoint?)null;
        return new ReferencePoint
        {
            Recorded = facts[id],
            Frame = frame,
            Standing = at is not null ? PlacementStanding.Placed
                : known.ContainsKey(id) ? PlacementStanding.Collinear : open.GetValueOrDefault(id, PlacementStanding.Waiting),
            At = at,
            Place = (number, place),
            Control = at is null ? null : control,
            Notes = Notes(facts[id].Data),
        };
    }

    private List<string> Notes(ReferencePointRecorded data)
    {
        var notes = new List<string>();
        if (data.Local is not null && frame.Name == "earth") notes.Add("Its local coordinates are not used: a point that it is taped with has a position.");
        if (datum is { } fixedBy)
            notes.Add($"Known only beside other reference points: {fixedBy.From} is the origin, and {fixedBy.To} lies to the right of it.");
        return notes;
    }

    // The points that are known by themselves begin; the others follow as soon as they can be worked out from those.
    private void Approximate()
    {
        if (datum is { } fixedBy)
        {
            known[fixedBy.From] = new(0, 0);
            known[fixedBy.To] = new(Levelling.LevelMetres(facts[fixedBy.To].Data.Tapes!.First(tape => tape.From == fixedBy.From)), 0);
        }

        // A point that says on which side it lies is placed by its tapes, so that rough positions do not turn the figure over.
        foreach (var id in ids.Where(id => facts[id].Data is not { Side: not null, Tapes.Length: > 1 })) Own(id);
        Follow();
        foreach (var id in ids.Where(id => !known.ContainsKey(id)))
        {
            Own(id);
            Follow();
        }
    }

    private void Own(string id)
    {
        var data = facts[id].Data;
        if (frame.Earth is { } earth && data.Position is { } position) known[id] = earth.Of(position);
        else if (frame.Name == "local" && data.Local is { } local) known[id] = new(local.XMetres, local.YMetres);
    }

    private void Follow()
    {
        for (var any = true; any;)
        {
            any = false;
            foreach (var id in ids.Where(id => !known.ContainsKey(id)))
            {
                if (Work(facts[id].Data) is not { } at) continue;
                known[id] = at;
                open.Remove(id);
                any = true;
            }
        }
    }

    private PlanePoint? Work(ReferencePointRecorded data)
    {
        if (data.Offset is { } offset && known.TryGetValue(offset.From, out var from) && known.TryGetValue(offset.To, out var to))
        {
            if (OffsetSolver.At(from, to, offset) is { } point) return point;
            open[data.PointId] = PlacementStanding.Collinear;
        }

        Tape[] tapes = [.. (data.Tapes ?? []).Where(tape => known.ContainsKey(tape.From))];
        if (tapes.Length < 2) return null;
        // The side speaks of the first two tapes as recorded.
        var side = tapes[0].From == data.Tapes![0].From && tapes[1].From == data.Tapes[1].From ? data.Side : null;
        RoughPlace? rough = frame.Earth is { } earth && data.Position is { } position ? new(earth.Of(position), RadiusOf(position)) : null;
        var outcome = TapeSolver.Solve(
            [.. tapes.Select(tape => new LevelTape(known[tape.From], Levelling.LevelMetres(tape), Levelling.DeviationMetres(tape)))], null, side, rough);
        if (outcome.Standing == PlacementStanding.Placed) return outcome.Places[0].At;
        open[data.PointId] = outcome.Standing;
        return null;
    }

    private List<Observation> Measured(Dictionary<string, int> numbers)
    {
        var measured = new List<Observation>();
        foreach (var (id, i) in numbers)
        {
            var data = facts[id].Data;
            if (frame.Earth is { } earth && data.Position is { } position) Fix(i, earth.Of(position), RadiusOf(position) / Confidence.Circle);
            else if (frame.Name == "local" && data.Local is { } local)
                Fix(i, new(local.XMetres, local.YMetres), (local.AccuracyMetres ?? AssumedLocalRadiusMetres) / Confidence.Circle);
            foreach (var tape in (data.Tapes ?? []).Where(tape => numbers.ContainsKey(tape.From)))
                measured.Add(new TapeObservation(i, numbers[tape.From], Levelling.LevelMetres(tape), Levelling.DeviationMetres(tape)));
            if (data.Offset is { } offset && numbers.TryGetValue(offset.From, out var from) && numbers.TryGetValue(offset.To, out var to))
                measured.AddRange(OffsetSolver.Measured(i, from, to, offset));
        }

        if (datum is { } fixedBy)
        {
            Fix(numbers[fixedBy.From], new(0, 0), DatumDeviationMetres);
            measured.Add(new CoordinateObservation(numbers[fixedBy.To], false, 0, DatumDeviationMetres));
        }

        return measured;

        void Fix(int point, PlanePoint at, double deviation)
        {
            measured.Add(new CoordinateObservation(point, true, at.X, deviation));
            measured.Add(new CoordinateObservation(point, false, at.Y, deviation));
        }
    }

    private static double RadiusOf(GeoPoint position) => position.AccuracyMetres ?? Confidence.AssumedRadiusMetres(position.Method);
}
