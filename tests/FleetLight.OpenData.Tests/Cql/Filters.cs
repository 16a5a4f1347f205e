using FleetLight.OpenData.Cql;
using FleetLight.OpenData.Features;
using FsCheck;
using FsCheck.Fluent;
using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Tests.Cql;

/// <summary>Draws filters that can be asked of a collection, and features of it.</summary>
internal static class Filters
{
    private static readonly GeometryFactory Factory = new(new PrecisionModel(), 4326);
    private static readonly string[] Texts = ["", "a", "near", "s01", "it's", "50%", "a_b", "\\", "ü", "\U0001F4A1", "outside", "within"];

    public static Gen<CqlTest> Of(FeatureKind kind, int depth = 3)
    {
        Gen<CqlTest> leaf = Leaf(kind);
        if (depth == 0) return leaf;
        Gen<CqlTest> part = Of(kind, depth - 1);
        return Gen.Frequency(
            (3, leaf),
            (2, part.Two().Select(pair => (CqlTest)new CqlAnd(pair.Item1, pair.Item2, default))),
            (2, part.Two().Select(pair => (CqlTest)new CqlOr(pair.Item1, pair.Item2, default))),
            (1, part.Select(each => (CqlTest)new CqlNot(each, default))));
    }

    public static Gen<FeatureRow> Row(FeatureKind kind) =>
        from values in Gen.CollectToList(kind.Properties, property => Gen.Frequency((1, Gen.Constant<object?>(null)), (4, Value(property))))
        from shape in Gen.Frequency((1, Gen.Constant<Geometry?>(null)), (4, Shape().Select(each => (Geometry?)each)))
        select new FeatureRow("row", shape, [.. values]);

    private static Gen<object?> Value(FeatureProperty property) => property.Kind switch
    {
        ValueKind.Text => Text(property).Select(text => (object?)text),
        ValueKind.Number => Number().Select(number => (object?)number),
        ValueKind.Whole => Gen.Choose(-3, 9).Select(number => (object?)(long)number),
        ValueKind.Flag => Gen.Elements(true, false).Select(flag => (object?)flag),
        _ => Time().Select(time => (object?)time),
    };

    private static Gen<CqlTest> Leaf(FeatureKind kind) => Gen.Frequency(
        (6, Gen.Elements(kind.Properties.ToArray()).SelectMany(OfProperty)),
        (1, Gen.Elements(true, false).Select(value => (CqlTest)new CqlConstant(value, default))),
        (2, Spatial()),
        (1, Gen.Elements(true, false).Select(negated => (CqlTest)new CqlIsNull(new CqlProperty(FeatureKind.ShapeName, default), negated, default))));

    private static Gen<CqlTest> OfProperty(FeatureProperty property)
    {
        CqlProperty of = new(property.Name, default);
        Gen<CqlValue> value = Literal(property);
        Gen<bool> negated = Gen.Elements(true, false);
        List<Gen<CqlTest>> all =
        [
            from how in property.Kind == ValueKind.Flag ? Gen.Elements(CqlComparison.Equal, CqlComparison.NotEqual) : Gen.Elements(Enum.GetValues<CqlComparison>())
            from with in value
            from swapped in negated
            select (CqlTest)(swapped ? new CqlCompare(with, how, of, default) : new CqlCompare(of, how, with, default)),
            from each in value.ListOf(3)
            from not in negated
            select (CqlTest)new CqlIn(of, new CqlList<CqlValue>(each), not, default),
            negated.Select(not => (CqlTest)new CqlIsNull(of, not, default)),
        ];
        if (property.Kind != ValueKind.Flag)
        {
            all.Add(
                from low in value
                from high in value
                from not in negated
                select (CqlTest)new CqlBetween(of, low, high, not, default));
        }

        if (property.Kind == ValueKind.Flag) all.Add(Gen.Constant<CqlTest>(new CqlFlag(of, default)));
        if (property.Kind == ValueKind.Text)
        {
            all.Add(
                from pattern in Gen.Elements("%", "a%", "%r", "_", "s0_", "\\%", "%\\", "50\\%", "%'%", "w%n", "")
                from not in negated
                select (CqlTest)new CqlLike(of, pattern, not, default));
        }

        if (property.Kind == ValueKind.Time)
        {
            all.Add(
                from how in Gen.Elements(Enum.GetValues<CqlTemporal>())
                from one in Time()
                from other in Time()
                from open in Gen.Choose(0, 3)
                let interval = new CqlInterval(open == 1 ? null : one, open == 2 ? null : other, default)
                let right = how == CqlTemporal.Equals || (open == 0 && how != CqlTemporal.During) ? (CqlValue)new CqlInstant(one, default) : interval
                select (CqlTest)new CqlTime(how, of, right, default));
        }

        return Gen.OneOf(all);
    }

    private static Gen<CqlTest> Spatial() =>
        from shape in Gen.OneOf(Shape().Select(each => (CqlShape)new CqlGeometry(each, default)), Box())
        from swapped in Gen.Elements(true, false)
        let own = (CqlShape)new CqlShapeProperty(FeatureKind.ShapeName, default)
        select (CqlTest)(swapped ? new CqlIntersects(shape, own, default) : new CqlIntersects(own, shape, default));

    private static Gen<CqlShape> Box() =>
        from one in At()
        from other in At()
        select (CqlShape)new CqlBox(Math.Min(one.X, other.X), Math.Min(one.Y, other.Y), Math.Max(one.X, other.X), Math.Max(one.Y, other.Y), default);

    private static Gen<Geometry> Shape() => Gen.OneOf(
        At().Select(at => (Geometry)Factory.CreatePoint(at)),
        At().ListOf(3).Select(line => (Geometry)Factory.CreateLineString([.. line])),
        At().ListOf(2).Select(points => (Geometry)Factory.CreateMultiPointFromCoords([.. points])),
        At().ListOf(2).ListOf(2).Select(lines => (Geometry)Factory.CreateMultiLineString([.. lines.Select(line => Factory.CreateLineString([.. line]))])),
        At().Select(at => (Geometry)Factory.CreatePolygon([at, new(at.X + 2, at.Y), new(at.X + 2, at.Y + 2), new(at.X, at.Y + 1), at])));

    private static Gen<Coordinate> At() => Gen.Choose(-40, 40).Two().Select(pair => new Coordinate(10 + (pair.Item1 / 8.0), 51 + (pair.Item2 / 8.0)));

    private static Gen<CqlValue> Literal(FeatureProperty property) => property.Kind switch
    {
        ValueKind.Text => Text(property).Select(text => (CqlValue)new CqlText(text, default)),
        ValueKind.Number or ValueKind.Whole => Number().Select(number => (CqlValue)new CqlNumber(number, default)),
        ValueKind.Flag => Gen.Elements(true, false).Select(flag => (CqlValue)new CqlBoolean(flag, default)),
        _ => Gen.OneOf(
            Time().Select(time => (CqlValue)new CqlInstant(time, default)),
            Time().Select(time => (CqlValue)new CqlDate(DateOnly.FromDateTime(time.UtcDateTime), default))),
    };

    private static Gen<string> Text(FeatureProperty property) => Gen.Elements(Texts.Concat(property.Words ?? []).ToArray());

    private static Gen<double> Number() => Gen.OneOf(Gen.Choose(-3, 60).Select(number => (double)number), Gen.Elements(1.6, 0.1 + 0.2, 1e-7, -2.5e10, 24.0));

    private static Gen<DateTimeOffset> Time() => Gen.Choose(0, 400_000).Select(minutes =>
        new DateTimeOffset(2026, 1, 1, 0, 0, 0, TimeSpan.Zero).AddMinutes(minutes).AddMilliseconds(minutes % 1000));
}
