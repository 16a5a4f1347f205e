using System.Collections.Immutable;
using System.Globalization;

namespace FleetLight.Electrics;

/// <summary>Words for what readings show over time.</summary>
internal static class DriftWords
{
    /// <summary>A day.</summary>
    public static string Day(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>What was found.</summary>
    public static string Of(DriftFinding finding, DriftSeries series, bool newestAlone)
    {
        var says = finding.Kind switch
        {
            DriftKind.SlowChange => SlowChange(finding, series),
            DriftKind.UnexplainedStep => Step(finding, series),
            DriftKind.Watch => newestAlone
                ? "The newest reading stands apart from all before it. Read again before anything is made of it."
                : "The charts signal that something moves, but it is too early to say how fast. Read again soon.",
            _ when finding.Steps.Any(step => !step.IsExplained) =>
                "Steady: it changed for a time without recorded work, and has come back.",
            _ => "Steady: no change beyond season, meters and scatter.",
        };
        var apart = newestAlone && finding.Kind is (DriftKind.SlowChange or DriftKind.UnexplainedStep)
            ? " The newest reading stands apart from that: read again."
            : "";
        return $"{says}{apart} {Rate(finding, series)}";
    }

    /// <summary>What was assumed.</summary>
    public static ImmutableArray<string> Assumptions(DriftSeries series, DriftOptions options, DriftModel model)
    {
        var assumes = ImmutableArray.CreateBuilder<string>();
        if (model.Columns.Exists(column => column.Effect == DriftEffect.Season))
        {
            assumes.Add("Not every reading has a temperature: a yearly swing of any phase was allowed for, its size about "
                + $"{Plain.Figure(options.SeasonKelvin)} K.");
        }

        if (series.Readings.OrEmpty().Any(reading => reading is { MeterId: null }))
            assumes.Add("Readings without a named meter were taken to be of one meter for each accuracy.");
        if (model.Points[^1].Expected is null)
            assumes.Add("What the circuit should read was not given: the readings were compared with one another only.");
        if (model.Points.Any(point => point.DesignId != model.Points[^1].DesignId))
            assumes.Add("The design changed: readings of both designs were joined by their deviation from what was expected.");
        return assumes.ToImmutable();
    }

    private static string SlowChange(DriftFinding finding, DriftSeries series)
    {
        var since = finding.ChangesSince is { } at ? $" since about {Day(at)}" : "";
        var isUp = finding.Rate.PerYear > (series.Quantity == MeasuredQuantity.MegohmsInsulation ? 1 : 0);
        var says = $"It {(isUp ? "rises" : "falls")} slowly{since}.";
        foreach (var crossing in finding.Crossings)
        {
            if (crossing.IsUpper != isUp) continue;
            var limit = $"the limit of {Plain.Figure(crossing.Limit)} {Wording.Unit(series.Quantity)}";
            says += crossing switch
            {
                { Likely: { } likely } when likely <= finding.Chart.Points[^1].At => $" It has come to {limit}.",
                { Earliest: { } earliest, Latest: { } latest } =>
                    $" It comes to {limit} between {Day(earliest)} and {Day(latest)}{Likely(crossing)}.",
                { Earliest: { } earliest } => $" It may come to {limit} from {Day(earliest)} on{Likely(crossing)}.",
                _ => $" It does not come to {limit} in sight.",
            };
        }

        return says;

        static string Likely(LimitCrossing crossing) =>
            crossing.Likely is { } likely ? $", most likely about {Day(likely)}" : "";
    }

    private static string Step(DriftFinding finding, DriftSeries series)
    {
        foreach (var step in finding.Steps.Reverse())
        {
            if (step.IsExplained) continue;
            return $"It changed by {Change(step.Size, series)} between {Day(step.After)} and {Day(step.Before)}, and no "
                + "recorded work explains it.";
        }

        return "It changed suddenly, and no recorded work explains it.";
    }

    private static string Rate(DriftFinding finding, DriftSeries series) =>
        $"Rate {Change(finding.Rate.PerYear, series)} a year ({Change(finding.Rate.Low, series)} to "
        + $"{Change(finding.Rate.High, series)}) from {finding.Visits} visits.";

    private static string Change(double size, DriftSeries series) =>
        series.Quantity == MeasuredQuantity.MegohmsInsulation
            ? $"× {Plain.Figure(size)}"
            : $"{(size > 0 ? "+" : "")}{Plain.Figure(size)} {Wording.Unit(series.Quantity)}";
}
