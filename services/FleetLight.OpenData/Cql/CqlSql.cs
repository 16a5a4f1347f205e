using System.Text;
using FleetLight.OpenData.Features;
using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Cql;

/// <summary>
/// Says a filter, or as much of it as can be said, as a condition of PostgreSQL on a column <c>properties</c> of type jsonb and a
/// column <c>extent</c> of type box, the rectangle that a feature reaches. What it says is so of every feature that the filter
/// finds. Values go by as parameters, names are those of our own properties.
/// </summary>
public static class CqlSql
{
    /// <summary>The condition; none where nothing can be said.</summary>
    /// <param name="test">The filter, which has passed <see cref="CqlCheck"/>.</param>
    /// <param name="kind">The collection.</param>
    /// <param name="parameter">Takes a value in and answers how the text names it.</param>
    /// <param name="exact">Whether the condition says all of the filter.</param>
    public static string? Of(CqlTest? test, FeatureKind kind, Func<object, string> parameter, out bool exact)
    {
        exact = true;
        return test is null ? null : new Saying(kind, parameter).Of(test, ref exact);
    }

    private sealed class Saying(FeatureKind kind, Func<object, string> parameter)
    {
        public string? Of(CqlTest test, ref bool exact)
        {
            switch (test)
            {
                case CqlAnd and:
                    // What can be said of either narrows both.
                    var (left, right) = (Of(and.Left, ref exact), Of(and.Right, ref exact));
                    return left is null ? right : right is null ? left : $"({left} and {right})";
                case CqlOr or:
                    var (one, other) = (Of(or.Left, ref exact), Of(or.Right, ref exact));
                    return one is null || other is null ? Nothing(ref exact) : $"({one} or {other})";
                case CqlNot not:
                    // The contrary of a part that says too little would say too much.
                    var whole = true;
                    var said = Of(not.Of, ref whole);
                    return said is null || !whole ? Nothing(ref exact) : $"not ({said})";
                case CqlConstant constant:
                    return constant.Value ? "true" : "false";
                case CqlFlag flag:
                    return Of(flag.Property);
                case CqlCompare compare:
                    return $"({Of(compare.Left)} {CqlWriter.Sign(compare.How)} {Of(compare.Right)})";
                case CqlBetween between:
                    return $"({Of(between.Of)} {(between.Negated ? "not " : "")}between {Of(between.Low)} and {Of(between.High)})";
                case CqlIn among:
                    return $"({Of(among.Of)} {(among.Negated ? "not " : "")}in ({string.Join(", ", among.Values.Items.Select(Of))}))";
                case CqlLike like:
                    return $"({Of(like.Of)} {(like.Negated ? "not " : "")}like {parameter(Escaped(like.Pattern))})";
                case CqlIsNull { Of: CqlProperty { Name: not FeatureKind.ShapeName } property } isNull:
                    return $"({Of(property)} is {(isNull.Negated ? "not " : "")}null)";
                case CqlIntersects { Left: CqlShapeProperty, Right: var shape } when CqlBounds.Rectangle(shape) is { } rectangle:
                    return Of(rectangle, ref exact);
                case CqlIntersects { Left: var shape, Right: CqlShapeProperty } when CqlBounds.Rectangle(shape) is { } rectangle:
                    return Of(rectangle, ref exact);
                default:
                    return Nothing(ref exact);
            }
        }

        // A point reaches a rectangle where its own does; a line may pass by the corner that its own shares with it. The operators of
        // boxes forgive a millionth of a degree, so the sides are compared; in one CASE, for the planner takes four comparisons for so rare
        // that it reads everything to sort what little is left.
        private string? Of(Envelope rectangle, ref bool exact) => kind.Shape == ShapeKind.Point
            ? $"(case when extent is not null then (extent[1])[0] >= {parameter(rectangle.MinX)} and (extent[0])[0] <= {parameter(rectangle.MaxX)}"
                + $" and (extent[1])[1] >= {parameter(rectangle.MinY)} and (extent[0])[1] <= {parameter(rectangle.MaxY)} end)"
            : Nothing(ref exact);

        private static string? Nothing(ref bool exact)
        {
            exact = false;
            return null;
        }

        private string Of(CqlValue value) => value switch
        {
            CqlProperty property => kind.Find(property.Name)!.Kind switch
            {
                ValueKind.Number or ValueKind.Whole => $"(properties ->> '{property.Name}')::float8",
                ValueKind.Flag => $"(properties ->> '{property.Name}')::boolean",
                // Times are written so that their texts sort like the times.
                _ => $"((properties ->> '{property.Name}') collate \"C\")",
            },
            CqlNumber number => $"{parameter(number.Value)}::float8",
            CqlBoolean flag => flag.Value ? "true" : "false",
            CqlText text => Text(text.Value),
            CqlInstant instant => Text(CqlTimes.Text(instant.Value)),
            CqlDate date => Text(CqlTimes.Text(CqlTimes.StartOf(date.Value))),
            _ => throw new ArgumentOutOfRangeException(nameof(value)),
        };

        // In brackets: behind BETWEEN a collation is not taken without them.
        private string Text(string text) => $"({parameter(text)}::text collate \"C\")";

        // PostgreSQL refuses a pattern that ends with the sign that takes meanings away; here such a sign stands for itself.
        private static string Escaped(string pattern)
        {
            var signs = 0;
            for (var i = pattern.Length - 1; i >= 0 && pattern[i] == '\\'; i--) signs++;
            return signs % 2 == 0 ? pattern : new StringBuilder(pattern).Append('\\').ToString();
        }
    }
}
