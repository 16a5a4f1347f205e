using FleetLight.OpenData.Crs;
using NetTopologySuite.Geometries;
using Xunit;

namespace FleetLight.OpenData.Tests.Crs;

public sealed class ProjectionTests
{
    // EPSG Guidance Note 7-2 (IOGP publication 373-7-2), "Transverse Mercator": the British National Grid on the Airy 1830 ellipsoid,
    // 50°30'00.00"N 0°30'00.00"E is 577274.99 m E, 69740.50 m N.
    private static readonly TransverseMercator National = new(6_377_563.396, 299.32496, 49, -2, 0.9996012717, 400_000, -100_000);

    [Fact]
    public void The_worked_example_of_transverse_mercator_is_met_both_ways()
    {
        (double easting, double northing) = National.Forward(0.5, 50.5);
        Assert.Equal(577_274.99, easting, 0.01);
        Assert.Equal(69_740.50, northing, 0.01);
        (double longitude, double latitude) = National.Backward(577_274.99, 69_740.50);
        Assert.Equal(0.5, longitude, 1e-6);
        Assert.Equal(50.5, latitude, 1e-6);
    }

    // EPSG Guidance Note 7-2, "Popular Visualisation Pseudo Mercator": 24°22'54.433"N 100°20'00.000"W is -11169055.58 m E, 2800000.00 m N.
    [Fact]
    public void The_worked_example_of_web_mercator_is_met_both_ways()
    {
        const double latitude = 24 + (22 / 60.0) + (54.433 / 3600);
        (double easting, double northing) = WebMercator.Forward(-(100 + (20 / 60.0)), latitude);
        Assert.Equal(-11_169_055.58, easting, 0.01);
        Assert.Equal(2_800_000.00, northing, 0.01);
        (double longitude, double back) = WebMercator.Backward(-11_169_055.58, 2_800_000.00);
        Assert.Equal(-(100 + (20 / 60.0)), longitude, 1e-6);
        Assert.Equal(latitude, back, 1e-6);
    }

    [Theory]
    [InlineData("EPSG:32632", 9, 0, 500_000, 0)]
    [InlineData("EPSG:32732", 9, 0, 500_000, 10_000_000)]
    [InlineData("EPSG:25832", 9, 0, 500_000, 0)]
    public void A_zone_begins_where_it_should(string name, double longitude, double latitude, double x, double y)
    {
        (double X, double Y) at = CoordinateSystem.Find(name)!.FromDegrees(longitude, latitude)!.Value;
        Assert.Equal(x, at.X, 1e-6);
        Assert.Equal(y, at.Y, 1e-6);
    }

    [Fact]
    public void Every_system_leads_back_to_where_it_came_from()
    {
        int tried = 0;
        foreach (CoordinateSystem system in CoordinateSystem.All)
        {
            for (double longitude = -180; longitude < 180; longitude += 7.3)
            {
                for (double latitude = -84; latitude <= 84; latitude += 5.9)
                {
                    if (system.FromDegrees(longitude, latitude) is not { } at) continue;
                    // Zones reach some thousand kilometres beyond their three degrees; the series is exact to far less than a millimetre within.
                    if (!system.IsGeographic && system.Uri.Contains("/32", StringComparison.Ordinal) && Math.Abs(at.X - 500_000) > 3_000_000) continue;
                    if (system.Uri.Contains("/258", StringComparison.Ordinal) && Math.Abs(at.X - 500_000) > 3_000_000) continue;
                    (double Longitude, double Latitude) back = system.ToDegrees(at.X, at.Y)!.Value;
                    Assert.True(Math.Abs(Math.IEEERemainder(back.Longitude - longitude, 360)) < 1e-8 && Math.Abs(back.Latitude - latitude) < 1e-8,
                        $"{system.Name}: {longitude} {latitude} became {at} and then {back}");
                    tried++;
                }
            }
        }

        Assert.True(tried > 10_000, $"{tried} positions were tried.");
    }

    [Fact]
    public void Latitude_comes_first_where_the_system_says_so()
    {
        Geometry shape = CoordinateSystem.Find("EPSG:4326")!.FromDegrees(new Point(10, 51))!;
        Assert.Equal((51, 10), (shape.Coordinate.X, shape.Coordinate.Y));
    }

    [Fact]
    public void Systems_are_known_by_their_addresses_only()
    {
        Assert.Equal(134, CoordinateSystem.All.Count);
        Assert.Equal(134, CoordinateSystem.All.Select(system => system.Uri).Distinct().Count());
        Assert.Same(CoordinateSystem.Crs84, CoordinateSystem.Find("https://www.opengis.net/def/crs/OGC/1.3/CRS84"));
        Assert.Null(CoordinateSystem.Find("EPSG:32600"));
        Assert.Null(CoordinateSystem.Find("EPSG:32661"));
        Assert.Null(CoordinateSystem.Find("EPSG:25839"));
        Assert.Null(CoordinateSystem.Find(""));
    }

    [Fact]
    public void What_a_system_does_not_reach_has_no_shape_in_it()
    {
        Assert.Null(CoordinateSystem.Find("EPSG:3857")!.FromDegrees(new Point(10, 90)));
        Assert.Null(CoordinateSystem.Find("EPSG:32632")!.FromDegrees(new Point(170, 0)));
    }

    [Fact]
    public void A_rectangle_in_metres_is_followed_along_its_bent_sides()
    {
        Geometry area = CoordinateSystem.Find("EPSG:32632")!.AreaOf(300_000, 5_600_000, 700_000, 6_000_000)!;
        // The middle of the southern side lies further south than its ends.
        (double Longitude, double Latitude) middle = CoordinateSystem.Find("EPSG:32632")!.ToDegrees(500_000, 5_600_000)!.Value;
        Assert.True(area.EnvelopeInternal.MinY <= middle.Latitude + 1e-9);
        Assert.True(area.Intersects(new Point(middle.Longitude, middle.Latitude + 1e-6)));
    }

    [Fact]
    public void A_rectangle_may_cross_the_180th_meridian()
    {
        Geometry area = CoordinateSystem.Crs84.AreaOf(179, -1, -179, 1)!;
        Assert.True(area.Intersects(new Point(179.5, 0)));
        Assert.True(area.Intersects(new Point(-179.5, 0)));
        Assert.False(area.Intersects(new Point(0, 0)));
    }
}
