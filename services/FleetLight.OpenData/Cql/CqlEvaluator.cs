using FleetLight.OpenData.Features;
using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Cql;

/// <summary>
/// Asks a filter of a feature. Three answers, as in SQL: what compares with something unknown is unknown itself, and only what is
/// true is found.
/// </summary>
public static class CqlEvaluator
{
    /// <summary>True, false, or null where it cannot be said. The filter has passed <see cref="CqlCheck"/>.</summary>
    public static bool? Ask(CqlTest test, FeatureKind kind, FeatureRow row) => test switch
    {
        CqlAnd and => And(Ask(and.Left, kind, row), Ask(and.Right, kind, row)),
        CqlOr or => Or(Ask(or.Left, kind, row), Ask(or.Right, kind, row)),
        CqlNot not => !Ask(not.Of, kind, row),
        CqlConstant constant => constant.Value,
        CqlFlag flag => (bool?)row.ValueOf(kind, flag.Property.Name),
        CqlCompare compare => Compare(Of(compare.Left, kind, row), compare.How, Of(compare.Right, kind, row)),
        CqlBetween between => Negate(between.Negated, And(
            Compare(Of(between.Of, kind, row), CqlComparison.GreaterOrEqual, Of(between.Low, kind, row)),
            Compare(Of(between.Of, kind, row), CqlComparison.LessOrEqual, Of(between.High, kind, row)))),
        CqlIn among => Negate(among.Negated, among.Values.Items.Aggregate(
            (bool?)false, (found, value) => Or(found, Compare(Of(among.Of, kind, row), CqlComparison.Equal, Of(value, kind, row))))),
        CqlLike like => Of(like.Of, kind, row) is string text ? Negate(like.Negated, CqlPattern.IsLike(text, like.Pattern)) : null,
        CqlIsNull isNull => Negate(isNull.Negated, isNull.Of is CqlProperty { Name: FeatureKind.ShapeName } ? row.Shape is null : Of(isNull.Of, kind, row) is null),
        CqlIntersects intersects => Intersects(Of(intersects.Left, row), Of(intersects.Right, row)),
        CqlTime time => Time(time.How, Span(time.Left, kind, row), Span(time.Right, kind, row)),
        _ => throw new ArgumentOutOfRangeException(nameof(test)),
    };

    private static bool? And(bool? left, bool? right) => left is false || right is false ? false : left is null || right is null ? null : true;

    private static bool? Or(bool? left, bool? right) => left is true || right is true ? true : left is null || right is null ? null : false;

    private static bool? Negate(bool negated, bool? value) => negated ? !value : value;

    private static bool? Compare(object? left, CqlComparison how, object? right)
    {
        if (left is null || right is null) return null;
        // A day is compared by its first millisecond, as a timestamp at its beginning.
        var order = (left, right) switch
        {
            (string one, string other) => CodePoints.Compare(one, other),
            (bool one, bool other) => one.CompareTo(other),
            (DateTimeOffset one, DateTimeOffset other) => one.CompareTo(other),
            _ => Convert.ToDouble(left, System.Globalization.CultureInfo.InvariantCulture)
                .CompareTo(Convert.ToDouble(right, System.Globalization.CultureInfo.InvariantCulture)),
        };
        return how switch
        {
            CqlComparison.Equal => order == 0,
            CqlComparison.NotEqual => order != 0,
            CqlComparison.Less => order < 0,
            CqlComparison.LessOrEqual => order <= 0,
            CqlComparison.Greater => order > 0,
            _ => order >= 0,
        };
    }

    private static object? Of(CqlValue value, FeatureKind kind, FeatureRow row) => value switch
    {
        CqlProperty property => row.ValueOf(kind, property.Name),
        CqlNumber number => number.Value,
        CqlText text => text.Value,
        CqlBoolean flag => flag.Value,
        CqlInstant instant => instant.Value,
        CqlDate date => CqlTimes.StartOf(date.Value),
        _ => null,
    };

    private static Geometry? Of(CqlShape shape, FeatureRow row) => shape switch
    {
        CqlGeometry geometry => geometry.Value,
        CqlBox box => CqlShapes.Factory.ToGeometry(new Envelope(box.Left, box.Right, box.Bottom, box.Top)),
        _ => row.Shape,
    };

    private static bool? Intersects(Geometry? left, Geometry? right)
    {
        if (left is null || right is null) return null;
        if (!left.EnvelopeInternal.Intersects(right.EnvelopeInternal)) return false;
        try
        {
            return left.Intersects(right);
        }
        catch (TopologyException)
        {
            // A polygon that crosses itself has no inside to speak of.
            return null;
        }
    }

    private static (DateTimeOffset From, DateTimeOffset To)? Span(CqlValue value, FeatureKind kind, FeatureRow row) => value switch
    {
        CqlInterval interval => (interval.From ?? DateTimeOffset.MinValue, interval.To ?? DateTimeOffset.MaxValue),
        CqlDate date => (CqlTimes.StartOf(date.Value), CqlTimes.EndOf(date.Value)),
        _ => Of(value, kind, row) is DateTimeOffset time ? (time, time) : null,
    };

    private static bool? Time(CqlTemporal how, (DateTimeOffset From, DateTimeOffset To)? left, (DateTimeOffset From, DateTimeOffset To)? right)
    {
        if (left is not { } one || right is not { } other) return null;
        return how switch
        {
            CqlTemporal.After => one.From > other.To,
            CqlTemporal.Before => one.To < other.From,
            CqlTemporal.During => one.From > other.From && one.To < other.To,
            CqlTemporal.Equals => one == other,
            _ => one.From <= other.To && one.To >= other.From,
        };
    }
}
