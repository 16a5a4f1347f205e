using FleetLight.Client.Reading;
using FleetLight.Contracts;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.PageParts.Drawings.Charts;
using FleetLight.PageParts.Drawings.Circuits;
using FleetLight.PageParts.Wording;
using FleetLight.Record.Calculations;
using FleetLight.Record.Checks;

namespace FleetLight.PageParts.History;

/// <summary>The readings of one place and quantity of a circuit over time, held against the circuit as it is now.</summary>
public sealed class ReadHistory
{
    // As many as a drift is asked about.
    private const int MostReadings = CalculationLimits.MostDriftReadings;
    private const int MostWorks = CalculationLimits.MostWorks;
    private const int MostText = 200;

    private readonly CircuitView view;
    private readonly CircuitModelView? model;
    private readonly IReadOnlyList<SeriesEvent> events;
    private (ReadingSeries Series, string Says)? drawn;

    private ReadHistory(IReadOnlyList<RecordedReading> readings, CircuitView view, CircuitModelView? model, IReadOnlyList<SeriesEvent> events)
    {
        Readings = readings;
        this.view = view;
        this.model = model;
        this.events = events;
    }

    /// <summary>The readings, oldest first.</summary>
    public IReadOnlyList<RecordedReading> Readings { get; }

    /// <summary>What the series is called.</summary>
    public string Name => $"{PlainWords.Of(Readings[0].Quantity)} {FactSummary.Place(Readings[0].Place, Readings[0].PlaceId)}";

    /// <summary>The series as it is drawn, with the control limits of its newest reading.</summary>
    public ReadingSeries Series => (drawn ??= Draw()).Series;

    /// <summary>What the control chart says, or why there is none yet, in plain words.</summary>
    public string Says => (drawn ??= Draw()).Says;

    /// <summary>The histories of a circuit, the longest first.</summary>
    /// <param name="readings">Its readings, in any order.</param>
    /// <param name="view">Its state.</param>
    /// <param name="model">The circuit as built; without it, readings are not held against anything.</param>
    /// <param name="facts">Its facts, as far as they are known.</param>
    public static IReadOnlyList<ReadHistory> Of(IEnumerable<RecordedReading> readings, CircuitView view, CircuitModelView? model, IEnumerable<FactView> facts)
    {
        ArgumentNullException.ThrowIfNull(view);
        var events = EventsOf(facts, view);
        return
        [
            .. readings.GroupBy(reading => (reading.Place, reading.PlaceId, reading.Quantity))
                .OrderByDescending(group => group.Count()).ThenBy(group => group.Key.Place).ThenBy(group => group.Key.PlaceId, StringComparer.Ordinal)
                .ThenBy(group => group.Key.Quantity)
                .Select(group => new ReadHistory([.. group.OrderBy(reading => reading.HappenedAt).TakeLast(MostReadings)], view, model, events)),
        ];
    }

    private (ReadingSeries Series, string Says) Draw()
    {
        var (place, placeId, quantity) = (Readings[0].Place, Readings[0].PlaceId, Readings[0].Quantity);
        var expected = view.Expected.FirstOrDefault(each => each.Place == place && each.PlaceId == placeId && each.Quantity == quantity)?.Expected;
        var known = view.LastReadings.ToDictionary(reading => reading.Fact, StringComparer.Ordinal);
        var (levels, says) = Control(expected);
        return (
            new ReadingSeries
            {
                Title = Name,
                Quantity = As(quantity),
                Readings = [.. Readings.Select(reading => Drawn(reading, known.GetValueOrDefault($"{reading.Source}#{reading.Id}"), expected))],
                Levels = levels,
                Events = [.. events.Where(each => each.At >= Readings[0].HappenedAt.AddDays(-30))],
            },
            says);
    }

    // The newest readings bear the verdict of their time; older ones are held against the circuit as it is now.
    private SeriesReading Drawn(RecordedReading reading, ReadingView? judged, ExpectedValue? expected) => judged is not null
        ? new SeriesReading(reading.HappenedAt, reading.Value, judged.Verdict, judged.Expected)
        : new SeriesReading(reading.HappenedAt, reading.Value, Judge(reading), expected);

    private CircuitVerdict Judge(RecordedReading reading)
    {
        if (model?.Circuit is not { } circuit || model.Missing.Count > 0) return CircuitVerdict.CannotBeJudged;
        var request = new VerdictRequest
        {
            Circuit = circuit,
            Assumptions = model.Assumptions,
            Rule = model.Rule,
            Readings =
            [
                new ReadingInput
                {
                    Place = CircuitParts.PlaceOf(reading.Place, reading.PlaceId), Quantity = As(reading.Quantity), Value = reading.Value, Meter = reading.Meter,
                },
            ],
        };
        if (RequestCheck.Check(request).Count > 0) return CircuitVerdict.CannotBeJudged;
        return CalculateVerdict.Answer(request).Answer?.Verdicts is [var only, ..] ? PlainWords.Same(only.Verdict) : CircuitVerdict.CannotBeJudged;
    }

    private (IReadOnlyList<SeriesLevel> Levels, string Says) Control(ExpectedValue? expected)
    {
        var request = new DriftRequest
        {
            Quantity = As(Readings[0].Quantity),
            Readings =
            [
                .. Readings.Select(reading => new DriftReadingInput
                {
                    At = reading.HappenedAt,
                    Value = reading.Value,
                    Expected = expected?.Value,
                    ExpectedStandardUncertainty = expected?.StandardUncertainty,
                    MeterId = reading.Source[Math.Max(0, reading.Source.Length - 80)..],
                    Meter = reading.Meter,
                }),
            ],
            Works = [.. events.TakeLast(MostWorks).Select(each => new WorkInput { At = each.At, What = each.Says[..Math.Min(MostText, each.Says.Length)] })],
            Chart = true,
        };
        if (RequestCheck.Check(request) is [var wrong, ..]) return ([], wrong.Detail);
        var (answer, problem) = CalculateDrift.Answer(request);
        if (answer?.Finding is not { } found) return ([], answer?.CannotTell?.Text ?? problem?.Detail ?? "");
        if (found.Chart?.Points is not [.., var newest]) return ([], found.Text);
        return (
            [
                new SeriesLevel(newest.High, "upper control limit", Control: true),
                new SeriesLevel(newest.Centre, "centre line", Control: true),
                new SeriesLevel(newest.Low, "lower control limit", Control: true),
            ],
            found.Text);
    }

    private static IReadOnlyList<SeriesEvent> EventsOf(IEnumerable<FactView> facts, CircuitView view)
    {
        var works = facts.Where(fact => fact.Standing == FactStanding.Counts && IsWork(fact.Type))
            .Select(fact => new SeriesEvent(fact.HappenedAt, FactSummary.Of(fact.Type, fact.Data))).ToList();
        // Where the facts are not at hand, the state tells at least when it was energised.
        if (works.Count == 0 && view.PhaseReachedAt.TryGetValue(CircuitPhase.Energised, out var energised)) works.Add(new SeriesEvent(energised, "Energised"));
        return [.. works.OrderBy(work => work.At)];
    }

    private static bool IsWork(string type) => FactTypes.Find(type) is { } kind
        && (kind == typeof(RepairMade) || kind == typeof(CircuitDesigned) || kind == typeof(DriverConnected) || kind == typeof(CircuitEnergised)
            || kind == typeof(CircuitHandedOver) || kind == typeof(FaultReported));

    private static MeasuredAs As(ReadingQuantity quantity) => quantity switch
    {
        ReadingQuantity.Milliamps => MeasuredAs.Milliamps,
        ReadingQuantity.LoopOhms => MeasuredAs.LoopOhms,
        _ => MeasuredAs.VoltsDc,
    };
}
