using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;
using FleetLight.Record.Rules;

namespace FleetLight.Record.Circuits;

/// <summary>Judges a circuit: puts the readings of its window to its basis.</summary>
public static class CircuitJudge
{
    /// <summary>The state of a circuit.</summary>
    /// <param name="basis">What follows from all facts but the readings.</param>
    /// <param name="window">The newest readings.</param>
    /// <param name="kept">What was made of them before; nothing if null.</param>
    /// <param name="explains">
    /// Whether faults that would explain the readings are worked out: the dearest part, which only who reads the state needs.
    /// </param>
    /// <param name="history">Its readings over months; none looked at if null.</param>
    public static CircuitView Judge(
        CircuitBasis basis, ReadingWindow window, KeptJudgements? kept = null, bool explains = true,
        ReadingHistory? history = null)
    {
        var (judged, visit) = Seen(basis, window, kept, history);
        var explained = explains ? Explanations.Of(visit) : Explanations.None;
        // Findings name the likeliest cause, which is dear to work out twice.
        return View(basis, judged, explains ? visit with { Explained = explained } : visit, explained);
    }

    /// <summary>
    /// The state of a circuit without explanations in small steps, for whoever must not be kept from other work meanwhile: what is
    /// dear in it is the likeliest cause that a finding names.
    /// </summary>
    /// <param name="basis">What follows from all facts but the readings.</param>
    /// <param name="window">The newest readings.</param>
    /// <param name="history">Its readings over months; none looked at if null.</param>
    /// <returns>Null for every step but the last, which is the state.</returns>
    public static IEnumerable<CircuitView?> LineInSteps(CircuitBasis basis, ReadingWindow window, ReadingHistory? history = null)
    {
        var (judged, visit) = Seen(basis, window, null, history);
        string? lead = null;
        if (visit.Verdict == CircuitVerdict.Outside)
        {
            foreach (var step in Explanations.LeadingInSteps(visit))
            {
                lead = step;
                yield return null;
            }
        }

        yield return View(basis, judged, visit with { Explained = Explanations.None with { Lead = lead } }, Explanations.None);
    }

    private static (JudgedReading[] Judged, Visit Visit) Seen(
        CircuitBasis basis, ReadingWindow window, KeptJudgements? kept, ReadingHistory? history)
    {
        var judged = new JudgedReading[window.Entries.Length];
        for (var i = 0; i < judged.Length; i++)
            judged[i] = ReadingJudge.Judge(basis, window.Entries[judged.Length - 1 - i], kept ?? KeptJudgements.None);
        var drifts = CircuitDrifts.Of(basis, history ?? ReadingHistory.Empty);
        var visit = VisitOf(basis, judged) with { Drifts = drifts };
        return (judged, visit with { Together = Together.Of(visit) });
    }

    private static CircuitView View(CircuitBasis basis, JudgedReading[] judged, Visit visit, Explanations explained)
    {
        var verdict = visit.Verdict;
        var proven = ProvenAt(basis, visit, verdict);
        return new CircuitView
        {
            Id = basis.Id,
            SiteId = basis.SiteId ?? (judged.Length > 0 ? judged[0].Entry.SiteId : null),
            Name = basis.Name,
            Drive = basis.Drive,
            Phase = proven is not null && basis.Phase < CircuitPhase.Proven ? CircuitPhase.Proven : basis.Phase,
            PhaseReachedAt = proven is { } at ? With(basis.PhaseReachedAt, at) : basis.PhaseReachedAt,
            MissingForNextPhase = Missing(basis, verdict, proven is not null),
            Verdict = verdict,
            VerdictWhy = Why(visit) ?? WhyUnread(basis, judged.Length),
            Together = visit.Together,
            Expected = basis.Expected,
            ExpectedWhyNot = basis.Reads is null ? basis.Refusal?.Text ?? ReadingJudge.NoDesign : null,
            LastReadings = Array.ConvertAll(judged, reading => reading.View),
            Explanations = explained.Faults,
            CannotTellApart = explained.CannotTellApart,
            NextReadings = explained.Next,
            EnoughMeasured = explained.Enough,
            Drift = visit.Drifts.Count == 0 ? null : [.. visit.Drifts.Select(drift => drift.View)],
            Headroom = basis.Headroom,
            Tests = basis.Tests,
            DriverPosition = basis.DriverPosition,
            DriverPlacement = basis.DriverPlacement,
            DriverPlacements = basis.DriverPlacements,
            DriverAt = basis.DriverAt,
            Fittings = basis.Fittings,
            CableIds = basis.CableIds,
            BoxIds = basis.BoxIds,
            SpareCores = basis.SpareCores,
            OpenFaults = basis.OpenFaults,
            OpenPoints = basis.OpenPoints,
            WaitingFor = basis.WaitingFor,
            Contradictions = Contradictions(basis, judged),
            Findings = Findings(basis, visit),
            Facts = basis.Facts,
        };
    }

    // The visit is made of the readings that count, up to some hours before the newest; of each place and quantity the
    // newest speaks, since a crew reads again until it is right.
    internal static Visit VisitOf(CircuitBasis basis, JudgedReading[] newestFirst)
    {
        var newest = new List<JudgedReading>(4);
        var readSinceRepair = basis.LastRepairAt is null;
        DateTimeOffset? from = null;
        foreach (var reading in newestFirst)
        {
            readSinceRepair |= reading.Entry.HappenedAt >= basis.LastRepairAt;
            if (!reading.Counts) continue;
            from ??= reading.Entry.HappenedAt.AddHours(-Visit.Hours);
            if (reading.Entry.HappenedAt < from || newest.Exists(other => IsAtSame(other, reading))) continue;
            newest.Add(reading);
        }

        return new(basis, new(ThingKind.Circuit, basis.Id), newest, readSinceRepair);
    }

    private static bool IsAtSame(JudgedReading one, JudgedReading other) =>
        one.Entry.Place == other.Entry.Place && one.Entry.Quantity == other.Entry.Quantity && one.Node == other.Node;

    private static DateTimeOffset? ProvenAt(CircuitBasis basis, Visit visit, CircuitVerdict verdict)
    {
        if (verdict != CircuitVerdict.Within || basis.ProvableAt is not { } provable) return null;
        foreach (var reading in visit.Newest)
        {
            // The loop is measured with the driver off: it does not show that the circuit works.
            if (reading.View is { Verdict: CircuitVerdict.Within, Quantity: not ReadingQuantity.LoopOhms })
                return reading.Entry.HappenedAt >= provable ? reading.Entry.HappenedAt : provable;
        }

        return null;
    }

    private static SortedDictionary<CircuitPhase, DateTimeOffset> With(
        IReadOnlyDictionary<CircuitPhase, DateTimeOffset> reached, DateTimeOffset provenAt)
    {
        var all = new SortedDictionary<CircuitPhase, DateTimeOffset> { [CircuitPhase.Proven] = provenAt };
        foreach (var (phase, at) in reached) all[phase] = at;
        return all;
    }

    private static IReadOnlyList<string> Missing(CircuitBasis basis, CircuitVerdict verdict, bool proven)
    {
        if (basis.Phase != CircuitPhase.Energised) return basis.Missing;
        if (proven) return [PhaseWords.HandedOver];
        var isRead = verdict == CircuitVerdict.Within && basis.Missing.Count > 0;
        return isRead ? basis.Missing : [.. basis.Missing, PhaseWords.ReadingDue];
    }

    private static string? Why(Visit visit) => (visit.Worst, visit.Together) switch
    {
        (null, _) => null,
        ({ } worst, { } together) when worst.View.Verdict != visit.Verdict =>
            worst.View.Verdict == CircuitVerdict.Outside
                ? $"{together.Why} {worst.Where}, by itself: {worst.View.Why}"
                : together.Why,
        ({ } worst, _) => $"{worst.Where}: {worst.View.Why}",
    };

    private static string WhyUnread(CircuitBasis basis, int readings)
    {
        if (readings == 0) return "No reading was taken yet.";
        return (basis.LastRepairAt, basis.DesignChangedAt) switch
        {
            ({ } repaired, var changed) when changed is null || repaired > changed =>
                $"No reading was taken since the repair of {Words.Of(repaired)}.",
            (_, { } changed) => $"No reading was taken since the design was changed on {Words.Of(changed)}.",
            _ => "No reading counts.",
        };
    }

    private static IReadOnlyList<string> Contradictions(CircuitBasis basis, JudgedReading[] judged)
    {
        List<string>? all = null;
        foreach (var reading in judged)
        {
            if (basis.SiteId is { } site && reading.Entry.SiteId != site)
                Add($"Reading {reading.Entry.Fact} names site {reading.Entry.SiteId}; the circuit is on {site}.");
            if (basis.Model is not null && !IsKnown(basis, reading))
            {
                Add($"Reading {reading.Entry.Fact} was taken at {Words.Of(reading.Entry.Place)} "
                    + $"{reading.Entry.PlaceId}; the circuit as recorded has none of that id.");
            }
        }

        return all ?? basis.Contradictions;

        void Add(string text) => (all ??= [.. basis.Contradictions]).Add(text);
    }

    private static bool IsKnown(CircuitBasis basis, JudgedReading reading) => reading.Entry.Place switch
    {
        ReadingPlaceKind.Driver => true,
        ReadingPlaceKind.Fitting => basis.Fittings.Any(fitting => fitting.FittingId == reading.Node),
        _ => basis.BoxIds.Contains(reading.Node),
    };

    private static IReadOnlyList<Finding> Findings(CircuitBasis basis, Visit visit)
    {
        var found = new List<Finding>(basis.Findings.Count + 2);
        RuleBook.FindOn(visit, found);
        if (found.Count == 0) return basis.Findings;
        found.AddRange(basis.Findings);
        return FindingOrder.Sorted(found);
    }
}
