using FleetLight.OpenData.Cql;
using FleetLight.OpenData.Features;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using NetTopologySuite.Geometries;
using Xunit;

namespace FleetLight.OpenData.Tests.Cql;

public sealed class EvaluatorTests
{
    private static readonly FeatureKind Kind = FeatureKinds.Circuits;

    // id, siteId, name, drive, phase, verdict, fittings, positionsKnown, expectedVolts, lastVolts, lastReadAt, rules, cableIds, boxIds
    private static readonly FeatureRow Row = new("c1", new Point(10, 51),
    [
        "c1", "s1", "Path 50%", "constant-current", "proven", "outside", 3L, 1L, 14.5, null, new DateTimeOffset(2026, 5, 4, 7, 30, 0, TimeSpan.Zero), null, "k1 k2", null,
    ]);

    [Theory]
    [InlineData("verdict = 'outside'", true)]
    [InlineData("verdict <> 'outside'", false)]
    [InlineData("'outside' = verdict AND fittings >= 3", true)]
    [InlineData("lastVolts > 1", null)]
    [InlineData("lastVolts > 1 OR fittings = 3", true)]
    [InlineData("lastVolts > 1 AND fittings = 4", false)]
    [InlineData("NOT lastVolts > 1", null)]
    [InlineData("lastVolts IS NULL", true)]
    [InlineData("geometry IS NOT NULL", true)]
    [InlineData("expectedVolts BETWEEN 14.5 AND 15", true)]
    [InlineData("expectedVolts NOT BETWEEN 14.5 AND 15", false)]
    [InlineData("siteId IN ('s2', 's1')", true)]
    [InlineData("rules IN ('x')", null)]
    [InlineData("name LIKE 'Path%'", true)]
    [InlineData("name LIKE 'path%'", false)]
    [InlineData("name LIKE '%50\\%'", true)]
    [InlineData("name LIKE 'Path __\\%'", true)]
    [InlineData("name NOT LIKE '%x%'", true)]
    [InlineData("cableIds LIKE '%k2%'", true)]
    [InlineData("lastReadAt = TIMESTAMP('2026-05-04T09:30:00+02:00')", true)]
    [InlineData("T_AFTER(lastReadAt, DATE('2026-05-03'))", true)]
    [InlineData("T_AFTER(lastReadAt, DATE('2026-05-04'))", false)]
    [InlineData("T_DURING(lastReadAt, INTERVAL('2026-05-01', '..'))", true)]
    [InlineData("T_INTERSECTS(lastReadAt, DATE('2026-05-04'))", true)]
    [InlineData("S_INTERSECTS(geometry, BBOX(10, 51, 11, 52))", true)]
    [InlineData("S_INTERSECTS(geometry, POLYGON((9 50, 11 50, 9 51.5, 9 50)))", false)]
    [InlineData("S_INTERSECTS(POINT(10 51), geometry)", true)]
    [InlineData("TRUE", true)]
    public void A_filter_is_true_false_or_unknown(string text, bool? expected)
    {
        Assert.True(CqlReader.TryRead(text, out CqlTest? test, out CqlFault? fault), fault?.ToString());
        Assert.Null(CqlCheck.Check(test!, Kind));
        Assert.Equal(expected, CqlEvaluator.Ask(test!, Kind, Row));
    }

    [Property(MaxTest = 3_000)]
    public Property What_is_found_lies_within_the_bounds() => Prop.ForAll(
        (from kind in Gen.Elements(FeatureKinds.All.ToArray())
         from test in Filters.Of(kind)
         from row in Filters.Row(kind)
         select (kind, test, row)).ToArbitrary(),
        drawn =>
        {
            (FeatureKind kind, CqlTest test, FeatureRow row) = drawn;
            Assert.Null(CqlCheck.Check(test, kind));
            if (CqlEvaluator.Ask(test, kind, row) is not true) return;
            CqlBounds bounds = CqlBounds.Of(test, kind);
            if (bounds.Within is { } within) Assert.True(row.Shape is not null && within.Intersects(row.Shape.EnvelopeInternal));
            DateTimeOffset? at = kind.Time is { } time ? (DateTimeOffset?)row.ValueOf(kind, time) : null;
            if (bounds.From is { } from) Assert.True(at >= from);
            if (bounds.To is { } to) Assert.True(at <= to);
            foreach ((string name, string wanted) in bounds.Texts) Assert.Equal(wanted, row.ValueOf(kind, name));
        });

    [Property(MaxTest = 1_000)]
    public Property A_feature_written_and_read_again_is_the_same() => Prop.ForAll(
        (from kind in Gen.Elements(FeatureKinds.All.ToArray())
         from row in Filters.Row(kind)
         select (kind, row)).ToArbitrary(),
        drawn =>
        {
            Assert.Equal(drawn.row.Values, FeatureJson.ReadProperties(drawn.kind, FeatureJson.PropertiesOf(drawn.kind, drawn.row)));
            if (drawn.row.Shape is { } shape and not Polygon) Assert.True(shape.EqualsExact(FeatureJson.ReadShape(FeatureJson.ShapeOf(shape))));
        });

    [Theory]
    [InlineData("abc", "a%c", true)]
    [InlineData("abc", "%%%", true)]
    [InlineData("", "%", true)]
    [InlineData("", "_", false)]
    [InlineData("a%", "a\\%", true)]
    [InlineData("ab", "a\\%", false)]
    [InlineData("a\\", "a\\", true)]
    [InlineData("\U0001F4A1", "_", true)]
    public void Patterns_are_followed(string text, string pattern, bool expected) => Assert.Equal(expected, CqlPattern.IsLike(text, pattern));
}
