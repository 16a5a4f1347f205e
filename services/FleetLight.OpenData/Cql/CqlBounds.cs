using FleetLight.OpenData.Features;
using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Cql;

/// <summary>
/// What must be so of every feature that a filter finds, in terms that an index answers: never narrower than the filter, often wider.
/// </summary>
public sealed record CqlBounds
{
    /// <summary>Where the shape must reach; anywhere, or nowhere, if null.</summary>
    public Envelope? Within { get; init; }

    /// <summary>Not before, by the collection's time.</summary>
    public DateTimeOffset? From { get; init; }

    /// <summary>Not after, by the collection's time.</summary>
    public DateTimeOffset? To { get; init; }

    /// <summary>Texts that properties must have, by their names.</summary>
    public IReadOnlyDictionary<string, string> Texts { get; init; } = new Dictionary<string, string>();

    /// <summary>The bounds of a filter: those that all of its parts have which stand side by side with AND.</summary>
    public static CqlBounds Of(CqlTest? test, FeatureKind kind)
    {
        var bounds = new CqlBounds();
        foreach (var part in Parts(test)) bounds = bounds.With(part, kind);
        return bounds;
    }

    private static IEnumerable<CqlTest> Parts(CqlTest? test)
    {
        var waiting = new Stack<CqlTest>();
        if (test is not null) waiting.Push(test);
        while (waiting.TryPop(out var next))
        {
            if (next is not CqlAnd and) yield return next;
            else
            {
                waiting.Push(and.Right);
                waiting.Push(and.Left);
            }
        }
    }

    private CqlBounds With(CqlTest part, FeatureKind kind) => part switch
    {
        CqlCompare { Left: CqlProperty property, Right: CqlText text, How: CqlComparison.Equal } => WithText(property.Name, text.Value),
        CqlCompare { Left: CqlText text, Right: CqlProperty property, How: CqlComparison.Equal } => WithText(property.Name, text.Value),
        CqlCompare { Left: CqlProperty property, How: CqlComparison.Greater or CqlComparison.GreaterOrEqual } compare
            when property.Name == kind.Time && Time(compare.Right) is { } time => WithTimes(time, null),
        CqlCompare { Left: CqlProperty property, How: CqlComparison.Less or CqlComparison.LessOrEqual } compare
            when property.Name == kind.Time && Time(compare.Right) is { } time => WithTimes(null, time),
        CqlBetween { Of: CqlProperty property, Negated: false } between
            when property.Name == kind.Time && Time(between.Low) is { } low && Time(between.High) is { } high => WithTimes(low, high),
        CqlTime { Left: CqlProperty property, How: CqlTemporal.After } after when property.Name == kind.Time && Time(after.Right) is { } time => WithTimes(time, null),
        CqlTime { Left: CqlProperty property, How: CqlTemporal.Before } before when property.Name == kind.Time && Time(before.Right) is { } time => WithTimes(null, time),
        CqlTime { Left: CqlProperty property, How: CqlTemporal.During or CqlTemporal.Intersects, Right: CqlInterval interval }
            when property.Name == kind.Time => WithTimes(interval.From, interval.To),
        CqlIntersects { Left: CqlShapeProperty, Right: var shape } when Envelope(shape) is { } envelope => WithShape(envelope),
        CqlIntersects { Left: var shape, Right: CqlShapeProperty } when Envelope(shape) is { } envelope => WithShape(envelope),
        _ => this,
    };

    // Of two different texts for one property either may be taken: nothing is found anyhow.
    private CqlBounds WithText(string name, string text) => this with { Texts = new Dictionary<string, string>(Texts) { [name] = text } };

    private CqlBounds WithTimes(DateTimeOffset? from, DateTimeOffset? to) => this with
    {
        From = From is null || from > From ? from ?? From : From,
        To = To is null || to < To ? to ?? To : To,
    };

    // Two rectangles that have to be reached are not one: a long line reaches both, and not what they share.
    private CqlBounds WithShape(Envelope envelope) => this with { Within = Within is null || envelope.Area < Within.Area ? envelope : Within };

    private static DateTimeOffset? Time(CqlValue value) => value switch
    {
        CqlInstant instant => instant.Value,
        CqlDate date => CqlTimes.StartOf(date.Value),
        _ => null,
    };

    /// <summary>The rectangle that a shape is; none where it is another shape.</summary>
    internal static Envelope? Rectangle(CqlShape shape) => shape is CqlBox or CqlGeometry { Value.IsRectangle: true } ? Envelope(shape) : null;

    private static Envelope? Envelope(CqlShape shape) => shape switch
    {
        CqlBox box => new Envelope(box.Left, box.Right, box.Bottom, box.Top),
        CqlGeometry geometry => geometry.Value.EnvelopeInternal,
        _ => null,
    };
}
