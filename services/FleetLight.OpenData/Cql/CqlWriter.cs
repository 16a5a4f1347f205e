using System.Globalization;
using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Cql;

/// <summary>Writes filters as CQL2 text, so that reading them again gives the same tree.</summary>
public static class CqlWriter
{
    /// <summary>The filter as text. What stands within something else has brackets, but for a row of the same word.</summary>
    public static string Write(CqlTest test) => test switch
    {
        CqlAnd and => $"{(and.Left is CqlAnd ? Write(and.Left) : $"({Write(and.Left)})")} AND ({Write(and.Right)})",
        CqlOr or => $"{(or.Left is CqlOr ? Write(or.Left) : $"({Write(or.Left)})")} OR ({Write(or.Right)})",
        CqlNot not => $"NOT ({Write(not.Of)})",
        CqlConstant constant => constant.Value ? "TRUE" : "FALSE",
        CqlFlag flag => Write(flag.Property),
        CqlCompare compare => $"{Write(compare.Left)} {Sign(compare.How)} {Write(compare.Right)}",
        CqlBetween between => $"{Write(between.Of)} {Not(between.Negated)}BETWEEN {Write(between.Low)} AND {Write(between.High)}",
        CqlIn among => $"{Write(among.Of)} {Not(among.Negated)}IN ({string.Join(", ", among.Values.Items.Select(Write))})",
        CqlLike like => $"{Write(like.Of)} {Not(like.Negated)}LIKE {Quote(like.Pattern)}",
        CqlIsNull isNull => $"{Write(isNull.Of)} IS {Not(isNull.Negated)}NULL",
        CqlIntersects intersects => $"S_INTERSECTS({Write(intersects.Left)}, {Write(intersects.Right)})",
        CqlTime time => $"T_{time.How.ToString().ToUpperInvariant()}({Write(time.Left)}, {Write(time.Right)})",
        _ => throw new ArgumentOutOfRangeException(nameof(test)),
    };

    private static string Write(CqlValue value) => value switch
    {
        CqlProperty property => Name(property.Name),
        CqlNumber number => Number(number.Value),
        CqlText text => Quote(text.Value),
        CqlBoolean flag => flag.Value ? "TRUE" : "FALSE",
        CqlInstant instant => $"TIMESTAMP('{CqlTimes.Text(instant.Value)}')",
        CqlDate date => string.Create(CultureInfo.InvariantCulture, $"DATE('{date.Value:yyyy-MM-dd}')"),
        CqlInterval interval => $"INTERVAL({End(interval.From)}, {End(interval.To)})",
        _ => throw new ArgumentOutOfRangeException(nameof(value)),
    };

    private static string Write(CqlShape shape) => shape switch
    {
        CqlShapeProperty property => Name(property.Name),
        CqlBox box => $"BBOX({Number(box.Left)}, {Number(box.Bottom)}, {Number(box.Right)}, {Number(box.Top)})",
        CqlGeometry geometry => Write(geometry.Value),
        _ => throw new ArgumentOutOfRangeException(nameof(shape)),
    };

    private static string Write(Geometry geometry) => geometry switch
    {
        Point point => $"POINT({At(point.Coordinate)})",
        LineString line => $"LINESTRING{Line(line)}",
        Polygon polygon => $"POLYGON{Rings(polygon)}",
        MultiPoint points => $"MULTIPOINT({string.Join(", ", points.Geometries.Select(point => $"({At(point.Coordinate)})"))})",
        MultiLineString lines => $"MULTILINESTRING({string.Join(", ", lines.Geometries.Select(line => Line((LineString)line)))})",
        MultiPolygon polygons => $"MULTIPOLYGON({string.Join(", ", polygons.Geometries.Select(polygon => Rings((Polygon)polygon)))})",
        _ => throw new ArgumentOutOfRangeException(nameof(geometry)),
    };

    private static string Rings(Polygon polygon) => $"({string.Join(", ", polygon.InteriorRings.Prepend(polygon.ExteriorRing).Select(Line))})";

    private static string Line(LineString line) => $"({string.Join(", ", line.Coordinates.Select(At))})";

    private static string At(Coordinate at) => $"{Number(at.X)} {Number(at.Y)}";

    private static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static string Quote(string text) => $"'{text.Replace("'", "''", StringComparison.Ordinal)}'";

    private static string Name(string name) => $"\"{name.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";

    private static string End(DateTimeOffset? end) => end is { } time ? $"'{CqlTimes.Text(time)}'" : "'..'";

    private static string Not(bool negated) => negated ? "NOT " : "";

    /// <summary>A comparison as it is written.</summary>
    public static string Sign(CqlComparison how) => how switch
    {
        CqlComparison.Equal => "=",
        CqlComparison.NotEqual => "<>",
        CqlComparison.Less => "<",
        CqlComparison.LessOrEqual => "<=",
        CqlComparison.Greater => ">",
        _ => ">=",
    };
}
