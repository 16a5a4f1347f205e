using FleetLight.Contracts;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Circuits;

/// <summary>Shows what readings or tests over months say.</summary>
internal static class DriftViews
{
    // Enough to look it up by; the history shows the rest.
    private const int MostEvidence = 8;

    /// <summary>What was found at a place.</summary>
    public static DriftView Of(ReadingPlaceKind place, string? placeId, MeasuredQuantity quantity, DriftOutcome outcome)
    {
        var found = outcome as DriftFinding;
        var refused = outcome as CannotTellDrift;
        var slow = found is { Kind: DriftKind.SlowChange } ? found : null;
        // Insulation changes by a factor.
        var level = quantity == MeasuredQuantity.MegohmsInsulation ? 1 : 0;
        var towards = slow?.Crossings.FirstOrDefault(crossing => crossing.IsUpper == slow.Rate.PerYear > level);
        return new DriftView
        {
            Place = place,
            PlaceId = placeId,
            Quantity = WireWord.Of<MeasuredQuantity, MeasuredAs>(quantity),
            Trend = found?.Kind switch
            {
                DriftKind.Steady => ReadingTrend.Steady,
                DriftKind.Watch => ReadingTrend.Watch,
                DriftKind.SlowChange => ReadingTrend.SlowChange,
                DriftKind.UnexplainedStep => ReadingTrend.UnexplainedStep,
                _ => ReadingTrend.CannotTell,
            },
            Says = found?.Text ?? refused?.Text ?? "",
            Visits = found?.Visits ?? refused?.Visits ?? 0,
            Rate = found is null
                ? null
                : new RateView
                {
                    PerYear = Rounded(found.Rate.PerYear),
                    Low = Rounded(found.Rate.Low),
                    High = Rounded(found.Rate.High),
                },
            ChangesSince = slow?.ChangesSince,
            Crossing = towards is null
                ? null
                : new CrossingView
                {
                    Limit = Rounded(towards.Limit),
                    Earliest = DayOf(towards.Earliest),
                    Likely = DayOf(towards.Likely),
                    Latest = DayOf(towards.Latest),
                },
            VisitBy = DayOf(slow?.VisitBy),
            AsksForVisit = found?.AsksForVisit ?? false,
        };
    }

    /// <summary>The facts that show it, oldest first.</summary>
    public static IReadOnlyList<string> Evidence(IEnumerable<(DateTimeOffset At, string Fact)> facts, DriftOutcome outcome)
    {
        var found = outcome as DriftFinding;
        var since = found?.ChangesSince ?? found?.Steps.LastOrDefault(step => !step.IsExplained)?.After;
        return [.. facts.Where(fact => !(fact.At < since)).TakeLast(MostEvidence).Select(fact => fact.Fact)];
    }

    private static double Rounded(double value) => Math.Round(value, 4);

    private static DateTimeOffset? DayOf(DateTimeOffset? at) =>
        at is { } then ? new DateTimeOffset(then.UtcDateTime.Date, TimeSpan.Zero) : null;
}
