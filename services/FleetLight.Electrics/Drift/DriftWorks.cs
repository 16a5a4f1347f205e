using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Recorded work among the points, and where it parts them.</summary>
internal sealed class DriftWorks
{
    // More works than these and the oldest part nothing: each costs a level.
    private const int Most = 10;

    // A level of its own asks for points on both sides of the work.
    private const int LeastForLevel = 3;

    private readonly List<(int At, RecordedWork Work)> bounds;
    private readonly List<int> steps = [];
    private readonly int count;

    private DriftWorks(List<(int At, RecordedWork Work)> bounds, int count)
    {
        this.bounds = bounds;
        this.count = count;
        Pieces = Between([.. bounds.Select(bound => bound.At)]);
        Stretches = [(0, count)];
    }

    /// <summary>The pieces between all works.</summary>
    public IReadOnlyList<(int From, int Until)> Pieces { get; }

    /// <summary>The stretches between the works that changed what is read; one at least.</summary>
    public IReadOnlyList<(int From, int Until)> Stretches { get; private set; }

    /// <summary>Puts the works among the points: of those between the same two the newest stands for all.</summary>
    public static DriftWorks Of(ImmutableArray<RecordedWork> works, DriftPoint[] points)
    {
        var bounds = new SortedDictionary<int, RecordedWork>();
        foreach (var work in works.OrEmpty().Where(work => work is not null)
                     .OrderBy(work => work.At.UtcTicks).ThenBy(work => work.What, StringComparer.Ordinal))
        {
            var at = Array.FindIndex(points, point => point.At >= work.At);
            if (at > 0) bounds[at] = work;
        }

        return new DriftWorks([.. bounds.TakeLast(Most).Select(pair => (pair.Key, pair.Value))], points.Length);
    }

    /// <summary>Finds out which works changed what is read.</summary>
    public void Decide(DriftModel model, double deviations)
    {
        List<int> parting = [];
        var from = 0;
        for (var i = 0; i < bounds.Count; i++)
        {
            var at = bounds[i].At;
            var until = i + 1 < bounds.Count ? bounds[i + 1].At : count;
            if (model.Counting(from, at) < LeastForLevel || Math.Abs(model.DeviationsAt(from, at, until)) > deviations)
                parting.Add(at);
            else if (model.Counting(at, until) >= LeastForLevel)
                steps.Add(at);
            else
                continue;
            from = at;
        }

        Stretches = Between(parting);
    }

    /// <summary>The columns of levels and of what works changed within a stretch.</summary>
    public IEnumerable<DriftColumn> Columns(int points)
    {
        foreach (var (from, until) in Stretches)
        {
            yield return DriftColumn.LevelOf(points, from, until);
            foreach (var at in steps.Where(at => at > from && at < until))
                yield return DriftColumn.StepOf(DriftEffect.WorkStep, points, at, until);
        }
    }

    /// <summary>The work before a point.</summary>
    public RecordedWork WorkAt(int point) =>
        bounds.FindLast(bound => bound.At <= point).Work ?? new RecordedWork(DateTimeOffset.MinValue, "");

    private List<(int From, int Until)> Between(List<int> ats)
    {
        List<(int From, int Until)> between = [];
        var from = 0;
        foreach (var at in ats.Append(count))
        {
            between.Add((from, at));
            from = at;
        }

        return between;
    }
}
