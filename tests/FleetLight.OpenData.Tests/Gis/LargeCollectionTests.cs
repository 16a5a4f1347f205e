using FleetLight.OpenData.Cql;
using FleetLight.OpenData.Features;
using FleetLight.Service.OpenData;
using NetTopologySuite.Geometries;
using Npgsql;
using Xunit;

namespace FleetLight.OpenData.Tests.Gis;

/// <summary>A collection so large that what a rectangle finds in it is not sorted any more.</summary>
[Collection<OpenServices>]
public sealed class LargeCollectionTests(OpenService service)
{
    private const int Side = 160;
    private const string Organisation = "large";

    [Fact]
    public async Task A_rectangle_finds_the_same_page_by_page_however_many_it_finds()
    {
        await using NpgsqlDataSource database = NpgsqlDataSource.Create(service.ConnectionString);
        await using (NpgsqlCommand fill = database.CreateCommand(
            $$"""
            insert into fleetlight.fl_feature (tenant_id, collection, id, owner, site_id, extent, shape, properties)
            select '{{Organisation}}', 'boxes', lpad((n * 7919 % {{Side * Side}})::text, 6, '0'), 'box:' || n, 's', box(point(x, y), point(x, y)),
              '{"type":"Point","coordinates":[' || x || ',' || y || ']}', '{}'
            from generate_series(0, {{(Side * Side) - 1}}) as n, lateral (select (n % {{Side}}) * 0.5 as x, (n / {{Side}}) * 0.5 as y) as p
            """))
        {
            await fill.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
        }

        IndexedFeatures features = new(database, Organisation);
        // All of them, about half of them, a column, a place, and just beside a place.
        foreach ((double Left, double Bottom, double Right, double Top, int Expected) each in ((double, double, double, double, int)[])
            [(0, 0, 79.5, 79.5, Side * Side), (0, 0, 79.5, 40, Side * 81), (3, 0, 3, 79.5, Side), (3, 4, 3, 4, 1), (3.0000001, 4, 3.4, 4, 0)])
        {
            Geometry area = GeometryFactory.Default.ToGeometry(new Envelope(each.Left, each.Right, each.Bottom, each.Top));
            CqlTest test = each.Left == each.Right && each.Bottom == each.Top
                ? new CqlIntersects(new CqlShapeProperty(FeatureKind.ShapeName, default), new CqlBox(each.Left, each.Bottom, each.Right, each.Top, default), default)
                : new CqlIntersects(new CqlShapeProperty(FeatureKind.ShapeName, default), new CqlGeometry(area, default), default);
            FeatureQuestion question = new(FeatureKinds.Boxes, test);
            List<string> found = [];
            PagePlace? at = PagePlace.After("");
            while (at is not null)
            {
                FeaturePage page = await FeaturePages.ReadAsync(features, question, at, 10_000, TestContext.Current.CancellationToken);
                found.AddRange(page.Rows.Select(row => row.Id));
                if (each.Left != each.Right && at.IsFirst)
                    Assert.Equal(each.Expected, await FeaturePages.CountAsync(features, question, isFirst: true, TestContext.Current.CancellationToken));
                at = page.Next;
            }

            Assert.Equal(each.Expected, found.Count);
            Assert.Equal(found.Order(StringComparer.Ordinal), found);
            Assert.Equal(found.Count, found.Distinct().Count());
        }
    }
}
