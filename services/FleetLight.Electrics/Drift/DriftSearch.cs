namespace FleetLight.Electrics;

/// <summary>
/// Looks for what changed: fits level, season, meters and designs, then adds, one after the other, the slopes, bends and
/// steps that the points bear out.
/// </summary>
internal sealed class DriftSearch
{
    private const int MostChanges = 6;

    // A share of the false alarms that are allowed goes to each kind of change.
    private const double SlopeShare = 0.8;
    private const double StepShare = 0.5;
    private const double BendShare = 0.5;

    private readonly DriftModel model;
    private readonly DriftOptions options;

    public DriftSearch(DriftModel model, DriftOptions options)
    {
        this.model = model;
        this.options = options;
    }

    /// <summary>Adds what is borne out to the fit and takes away what no longer is.</summary>
    /// <param name="stretches">The stretches between works that changed something.</param>
    public void Run(IReadOnlyList<(int From, int Until)> stretches)
    {
        var candidates = stretches.SelectMany(stretch => Candidates(stretch.From, stretch.Until)).ToList();
        var many = candidates.ToLookup(candidate => candidate.Effect);
        for (var i = 0; i < MostChanges; i++)
        {
            if (Likeliest(candidates, many) is { } added) model.Settle([.. model.Columns, added]);
            else if (!AddPair(candidates, many)) break;
        }

        while (Weakest(many) is { } weak) model.Settle([.. model.Columns.Where(column => column != weak)]);
    }

    /// <summary>Whether a stretch is long enough to tell a slope.</summary>
    public bool HasSlope(int from, int until) =>
        model.Counting(from, until) >= options.LeastVisits
        && model.DaysBetween(from, until - 1) >= options.LeastSpanDays;

    private double Freedom => model.Fit.Freedom + DriftModel.FreedomBeforehand;

    private IEnumerable<DriftColumn> Candidates(int from, int until)
    {
        var points = model.Points;
        if (HasSlope(from, until)) yield return DriftColumn.SlopeOf(DriftEffect.Slope, points, from, until);
        for (var at = from + 1; at < until; at++)
        {
            // A step or bend within a visit is none.
            if (model.IsOutlier[at] || model.DaysBetween(at - 1, at) <= options.VisitDays) continue;
            if (model.Counting(from, at) < 3) continue;
            if (model.Counting(at, until) >= 2) yield return DriftColumn.StepOf(DriftEffect.Step, points.Length, at, until);
            if (model.Counting(at, until) >= 3 && HasSlope(from, until))
                yield return DriftColumn.SlopeOf(DriftEffect.Bend, points, at, until);
        }
    }

    private DriftColumn? Likeliest(List<DriftColumn> candidates, ILookup<DriftEffect, DriftColumn> many)
    {
        DriftColumn? likeliest = null;
        var least = options.FalseAlarmRate;
        var fit = model.Fit;
        if (fit.Freedom < 2) return null;
        foreach (var candidate in candidates)
        {
            var (beta, information) = fit.WithOneMore(candidate.Values);
            var explained = beta * beta * information;
            var scale = model.Scale(fit.Squares - explained, fit.Freedom - 1);
            var chance = Corrected(TDistribution.TwoSided(Math.Sqrt(explained / scale), Freedom - 1), candidate, many);
            if (!(chance < least)) continue;
            least = chance;
            likeliest = candidate;
        }

        return likeliest;
    }

    // What comes and goes is borne out by two changes together, though by neither of them alone.
    private bool AddPair(List<DriftColumn> candidates, ILookup<DriftEffect, DriftColumn> many)
    {
        var before = model.Columns;
        var (squares, freedom) = (model.Fit.Squares, Freedom - 2);
        if (freedom < DriftModel.FreedomBeforehand + 2 || Best(candidates) is not { } one) return false;
        model.Fits([.. before, one]);
        if (Best(candidates) is { } other)
        {
            var explained = squares - model.Fit.Squares + Explained(other);
            var scale = model.Scale(squares - explained, model.Fit.Freedom - 1);
            // Two of Fisher's F have a tail in closed form.
            var chance = Math.Pow(1 + (explained / (scale * freedom)), -freedom / 2);
            if (Corrected(Corrected(chance, one, many), other, many) < options.FalseAlarmRate)
            {
                model.Settle([.. before, one, other]);
                return true;
            }
        }

        model.Fits(before);
        return false;
    }

    private DriftColumn? Best(List<DriftColumn> candidates) =>
        candidates.Where(candidate => !model.Columns.Contains(candidate)).MaxBy(Explained);

    private double Explained(DriftColumn candidate)
    {
        var (beta, information) = model.Fit.WithOneMore(candidate.Values);
        return beta * beta * information;
    }

    private DriftColumn? Weakest(ILookup<DriftEffect, DriftColumn> many)
    {
        DriftColumn? weakest = null;
        var most = options.FalseAlarmRate;
        var fit = model.Fit;
        for (var i = 0; i < model.Columns.Count; i++)
        {
            var column = model.Columns[i];
            if (column.Effect is not (DriftEffect.Slope or DriftEffect.Bend or DriftEffect.Step)) continue;
            var t = fit.Beta[i] / Math.Sqrt(fit.Covariance(i, i) * model.Scale(fit.Squares, fit.Freedom));
            var chance = Corrected(TDistribution.TwoSided(t, Freedom), column, many);
            if (!(chance > most)) continue;
            most = chance;
            weakest = column;
        }

        return weakest;
    }

    // As many chances as there are candidates of its kind (Bonferroni), and the share of its kind.
    private static double Corrected(double chance, DriftColumn column, ILookup<DriftEffect, DriftColumn> many) =>
        chance * many[column.Effect].Count() / column.Effect switch
        {
            DriftEffect.Slope => SlopeShare,
            DriftEffect.Bend => BendShare,
            _ => StepShare,
        };
}
