using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;

namespace FleetLight.Record.Circuits;

/// <summary>A reading with what was made of it.</summary>
/// <param name="Entry">The reading.</param>
/// <param name="View">What was made of it.</param>
/// <param name="Node">The place by the name that the electrics know: <c>driver</c>, a fitting or a box.</param>
/// <param name="Counts">Whether it counts for the verdict: taken since the last repair and change of design.</param>
public sealed record JudgedReading(ReadingEntry Entry, ReadingView View, string Node, bool Counts)
{
    /// <summary>The place in words.</summary>
    public string Where => Places.Where(Entry, Node);

    /// <summary>What distinguishes the place and quantity from others on the circuit.</summary>
    public string PlaceKey => Places.Key(Entry, Node);
}

/// <summary>Where readings are taken.</summary>
internal static class Places
{
    /// <summary>The place in words.</summary>
    public static string Where(ReadingEntry entry, string node) => entry.Place switch
    {
        ReadingPlaceKind.Driver => "At the driver",
        ReadingPlaceKind.Box => $"In box {node}",
        _ => $"At fitting {node}",
    };

    /// <summary>What distinguishes the place and quantity from others on the circuit.</summary>
    public static string Key(ReadingEntry entry, string node) => entry.Place == ReadingPlaceKind.Driver
        ? $"driver:{Words.Of(entry.Quantity)}"
        : $"{Words.Of(entry.Place)}:{node}:{Words.Of(entry.Quantity)}";
}

/// <summary>The latest visit to a circuit: what the rules on readings look at.</summary>
/// <param name="Basis">The circuit's basis.</param>
/// <param name="Subject">The circuit.</param>
/// <param name="Newest">The newest counting reading of each place and quantity of the visit, newest first.</param>
/// <param name="ReadSinceRepair">
/// Whether a reading was taken since the last repair; true where there was no repair.
/// </param>
public sealed record Visit(
    CircuitBasis Basis, ThingRef Subject, IReadOnlyList<JudgedReading> Newest, bool ReadSinceRepair)
{
    /// <summary>What explains the readings, where that was worked out already.</summary>
    internal Explanations? Explained { get; init; }

    /// <summary>The judgement of its readings together; none where each stands alone.</summary>
    public TogetherView? Together { get; init; }

    /// <summary>
    /// The verdict of the visit. Together the readings are outside no oftener than the rule's risk; one that is outside by
    /// itself keeps the whole from being called within.
    /// </summary>
    public CircuitVerdict Verdict => (Worst?.View.Verdict, Together) switch
    {
        (null, _) => CircuitVerdict.Unread,
        ({ } worst, null) => worst,
        (CircuitVerdict.Outside, { Verdict: CircuitVerdict.Within }) => CircuitVerdict.Doubtful,
        (_, { } together) => together.Verdict,
    };

    /// <summary>What the readings of months show.</summary>
    public IReadOnlyList<JudgedDrift> Drifts { get; init; } = [];

    /// <summary>
    /// Readings up to this long before the newest belong to the same visit, h (common practice, no source).
    /// </summary>
    public const int Hours = 12;

    /// <summary>
    /// The reading that decides: the newest of those with the worst verdict; none where there is none.
    /// </summary>
    public JudgedReading? Worst
    {
        get
        {
            JudgedReading? worst = null;
            foreach (var reading in Newest)
                if (worst is null || Weight(reading.View.Verdict) > Weight(worst.View.Verdict)) worst = reading;
            return worst;
        }
    }

    // A reading that cannot be judged says nothing and gives way to any that says something.
    private static int Weight(CircuitVerdict verdict) => verdict switch
    {
        CircuitVerdict.Outside => 4,
        CircuitVerdict.Doubtful => 3,
        CircuitVerdict.Within => 2,
        CircuitVerdict.CannotBeJudged => 1,
        _ => 0,
    };
}
